import type { ObservationKind } from "../../records/study.js";
import { countWords, plainWords } from "./plain-words.js";
import type { Finding } from "./sign.js";
import type { FindingWords, SignKind } from "./sign-kind.js";
import { signTable } from "./sign-table.js";
import { tokensOf } from "./tokens.js";

/** What a phrase means. */
export type Meaning =
  | { readonly says: "none" | "not looked" | "present" | "doubt" | "unread" | "filler" }
  | { readonly says: "deny" | "deny weakly" }
  | { readonly says: "amount" }
  | { readonly says: "count"; readonly count: number }
  | { readonly says: "itself"; readonly kind: ObservationKind }
  | {
      readonly says: "finding";
      readonly finding: Finding;
      readonly own: boolean;
      readonly unseen: boolean;
    }
  | { readonly says: "well"; readonly denied: Finding | null; readonly own: boolean };

/** Phrases by their first word, longest first. */
export type Lexicon = ReadonlyMap<
  string,
  readonly { readonly words: readonly string[]; readonly meaning: Meaning }[]
>;

const made = new Map<ObservationKind, Lexicon>();

/** Every phrase that can be read in a line of a kind: its own words win over everybody's. */
export function lexiconOf(kind: SignKind): Lexicon {
  const known = made.get(kind.kind);
  if (known !== undefined) return known;
  const phrases = new Map<string, Meaning>();
  const add = (says: readonly string[], meaning: Meaning) => {
    for (const phrase of says) {
      const key = tokensOf(phrase)
        .map((t) => t.text)
        .join(" ");
      if (!phrases.has(key)) phrases.set(key, meaning);
    }
  };
  // In order of precedence: what was added first stays.
  for (const f of kind.ownFindings ?? []) add(f.says, findingOf(f, true));
  add(kind.none, { says: "none" });
  for (const w of kind.well ?? []) add(w.says, { says: "well", denied: w.denied, own: true });
  for (const f of kind.findings) add(f.says, findingOf(f, true));
  add(kind.itself, { says: "itself", kind: kind.kind });
  add(plainWords.things, { says: "filler" });
  add(plainWords.unread, { says: "unread" });
  add(plainWords.notLooked, { says: "not looked" });
  add(plainWords.doubts, { says: "doubt" });
  add(plainWords.weakDenials, { says: "deny weakly" });
  add(plainWords.denials, { says: "deny" });
  add(plainWords.none, { says: "none" });
  add(kind.present, { says: "present" });
  add(plainWords.amounts, { says: "amount" });
  if (kind.holds !== "free") add(plainWords.present, { says: "present" });
  for (const [word, count] of Object.entries(countWords)) add([word], { says: "count", count });
  for (const other of signTable) {
    if (other === kind) continue;
    const own = isState(kind) && isState(other);
    for (const f of other.findings) add(f.says, findingOf(f, own));
    for (const w of other.well ?? [])
      if (w.here !== true) add(w.says, { says: "well", denied: w.denied, own });
    if (other.holds === "event" || other.holds === "excretion" || isState(other))
      add(other.itself, { says: "itself", kind: other.kind });
  }
  add(plainWords.looking, { says: "filler" });
  add(plainWords.fillers, { says: "filler" });
  const lexicon = new Map<string, { words: string[]; meaning: Meaning }[]>();
  for (const [phrase, meaning] of phrases) {
    const words = phrase.split(" ");
    const list = lexicon.get(words[0]!);
    if (list === undefined) lexicon.set(words[0]!, [{ words, meaning }]);
    else list.push({ words, meaning });
  }
  for (const list of lexicon.values()) list.sort((a, b) => b.words.length - a.words.length);
  made.set(kind.kind, lexicon);
  return lexicon;
}

function findingOf(f: FindingWords, own: boolean): Meaning {
  return { says: "finding", finding: f.finding, own, unseen: f.unseen === true };
}

const isState = (kind: SignKind) => kind.holds === "state";
