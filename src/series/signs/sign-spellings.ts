import type { AcceptedSpelling } from "../../records/accepted-spellings.js";
import { countWords, plainWords } from "./plain-words.js";
import type { SignKind } from "./sign-kind.js";
import { signTable } from "./sign-table.js";

/**
 * How observations may be written, from the lists that the reader of signs uses:
 * what counts as looked and none, as not looked, as there and how much, and the
 * units and words of each kind.
 *
 * @example signSpellings().find((s) => s.readAs === "not looked")?.written[0] // "not looked"
 */
export function signSpellings(): AcceptedSpelling[] {
  const row = (where: string, written: readonly string[], readAs: string): AcceptedSpelling[] =>
    written.length === 0 ? [] : [{ where, written, readAs }];
  const any = "observations";
  return [
    ...row(any, plainWords.none, "looked, none"),
    ...row(any, plainWords.notLooked, "not looked"),
    ...row(any, plainWords.present, "present"),
    ...row(any, plainWords.amounts, "present, how much"),
    ...Object.entries(countWords).flatMap(([word, n]) => row(any, [word], `present, ${n} times`)),
    ...row(any, plainWords.doubts, "in doubt: the worse meaning counts until it is decided"),
    ...signTable.flatMap((kind) => ofKind(kind, row)),
  ];
}

function ofKind(
  { kind, none, present, well = [], findings, ownFindings = [], measuring }: SignKind,
  row: (where: string, written: readonly string[], readAs: string) => AcceptedSpelling[],
): AcceptedSpelling[] {
  const words = new Map<string, string[]>();
  for (const { finding, says } of [...findings, ...ownFindings])
    words.set(finding, [...(words.get(finding) ?? []), ...says]);
  return [
    ...row(kind, none, "looked, none"),
    ...row(kind, present, "present"),
    ...row(
      kind,
      well.flatMap((w) => w.says),
      "well",
    ),
    ...[...words].flatMap(([finding, says]) => row(kind, says, finding)),
    ...(measuring?.units ?? []).flatMap((u) => row(kind, u.spellings, u.name)),
    ...row(kind, measuring?.low ?? [], "below what the instrument shows"),
    ...row(kind, measuring?.high ?? [], "above what the instrument shows"),
  ];
}
