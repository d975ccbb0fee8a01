import { noticeText } from "../core/catalogue.js";
import type { Wording } from "../core/wording.js";
import type { StudyProposal } from "../records/propose-for-study.js";
import type { TableProposal } from "../records/propose-mapping.js";
import { inLine } from "./on-screen.js";

/** What files, layouts, columns and names may mean, with what speaks for each. */
export function proposalLines(proposals: StudyProposal, wording: Wording): string[] {
  const { tables, names } = proposals;
  if (tables.length + names.length === 0) return [];
  const lines = ["", "These may be meant (nothing is used before you agree):"];
  for (const group of alike(tables)) {
    const first = group[0]!;
    const files = shownFiles(group.map((p) => inLine(p.file)));
    lines.push(`  ${wording.list(files)} as the table of ${first.table}:`);
    for (const { why } of first.layout ?? []) lines.push(`    ${noticeText(why, wording)}`);
    if (group.length > 1 && (first.layout ?? []).length > 0)
      lines.push("    and so on for the others");
    for (const c of first.columns)
      lines.push(
        `    ${c.column} = ${inLine(c.header)} (${Math.round(100 * c.confidence)} % sure; e.g. ${inLine(c.example)})`,
      );
    for (const name of first.missing) lines.push(`    ${name}: nothing found; needed`);
  }
  for (const { animal, name, count, sure } of names)
    lines.push(
      `  ${inLine(name)} (${count} rows) is the animal ${inLine(animal)}${sure ? "" : "; not its whole name: look closely"}`,
    );
  return lines;
}

/** The first of many; `--json` lists them all. */
const shownFiles = (files: readonly string[]) =>
  files.length <= 12 ? files : [...files.slice(0, 10), `${files.length - 10} more`];

/** Sources with the same columns and kinds of layout are shown once. */
function alike(tables: readonly TableProposal[]): TableProposal[][] {
  const groups = new Map<string, TableProposal[]>();
  for (const p of tables) {
    const key = JSON.stringify([
      p.table,
      (p.layout ?? []).map((r) => r.step.layout),
      p.columns.map((c) => [c.column, c.header]),
      p.missing,
    ]);
    groups.set(key, [...(groups.get(key) ?? []), p]);
  }
  return [...groups.values()];
}
