import { noticeText } from "../core/catalogue.js";
import type { Notice } from "../core/notice.js";
import type { Wording } from "../core/wording.js";
import type { TableProposal } from "../records/propose-mapping.js";
import type { Study } from "../records/study.js";
import type { StudySummary } from "../records/summarise-study.js";
import type { DoubtedFeed, SlipInCheck } from "./check-tables.js";

const WIDTH = 100;

/** What the series doubt, and what people decided. */
export interface Doubts {
  readonly slips: readonly SlipInCheck[];
  readonly feeds: readonly DoubtedFeed[];
  readonly decisions: readonly Notice[];
}

/** The state of a study on one screen: at most about 45 lines of 100 characters. */
export function checkText(
  study: Study,
  summary: StudySummary,
  { slips, feeds, decisions }: Doubts,
  wording: Wording,
  written: readonly string[],
): string {
  const lines: string[] = [`${clean(summary.title)} (times in ${summary.zone})`, ""];
  lines.push(...tableLines(study, summary), "");
  lines.push(
    `${summary.rowsIn} rows = ${summary.accepted} accepted (${summary.acceptedWithNotice} with a notice) + ${summary.setAside} set aside`,
  );
  const list = (title: string, all: readonly string[], most: number) => {
    if (all.length === 0) return;
    lines.push("", title);
    for (const line of all.slice(0, most)) lines.push(`  ${cut(line, WIDTH - 2)}`);
    if (all.length > most) lines.push(`  and ${all.length - most} more`);
  };
  list(
    "Set aside:",
    study.setAside.map((row) => {
      const where = `${row.file}:${row.line}${row.column === null ? "" : ` ${row.column}`}`;
      const value = row.value === null ? "" : ` ${JSON.stringify(cut(clean(row.value), 24))}`;
      return `${where}${value}: ${noticeText(row.reason, wording)} ${noticeText(row.suggestion, wording)}`;
    }),
    6,
  );
  list(
    "Suspected slips:",
    slips.map(
      ({ animalId, weighing: w }) =>
        `${w.row.origin.file}:${w.row.origin.line} ${animalId}: ${noticeText(w.why, wording)}`,
    ),
    5,
  );
  list(
    "Notices:",
    summary.notices
      .filter((n) => n.level !== "info")
      .map((n) => {
        const place = n.first.place;
        const where = [place?.file ?? place?.table, place?.line].filter((x) => x !== undefined);
        const more = n.count > 1 ? ` (${n.count} times)` : "";
        return `${where.join(":")}: ${noticeText(n.first, wording)}${more}`;
      }),
    7,
  );
  if (written.length > 0) lines.push("", `Full lists: ${written.join(", ")}`);
  return lines.join("\n");
}

/** Proposals as lines for the screen, and how to agree to them. */
export function proposalLines(proposals: readonly TableProposal[], folder: string): string[] {
  if (proposals.length === 0) return [];
  const lines = ["", "These may be meant (nothing is used before you agree):"];
  for (const p of proposals) {
    lines.push(`  ${clean(p.file)} as the table of ${p.table}:`);
    for (const c of p.columns)
      lines.push(
        cut(
          `    ${c.column.padEnd(20)} ${clean(c.header)}  (${Math.round(100 * c.confidence)} % sure; e.g. ${clean(c.example)})`,
          WIDTH,
        ),
      );
    for (const name of p.missing) lines.push(`    ${name.padEnd(20)} nothing found; needed`);
  }
  lines.push(
    "",
    `To agree: gramline check ${clean(folder)} --save-mapping, then look them over in study.json ("columns").`,
  );
  return lines;
}

function tableLines(study: Study, summary: StudySummary): string[] {
  const rows = summary.counts.map((c) => {
    const columns = (study.columns ?? []).filter((u) => u.file === c.file && u.table === c.table);
    const units = columns.filter((u) => u.unit !== null).map((u) => `${u.column} in ${u.unit}`);
    const read = columns.filter((u) => u.column !== null).length;
    return [
      c.table,
      c.file,
      String(c.rowsIn),
      String(c.setAside),
      `${read} of ${columns.length}`,
      units.join(", "),
    ];
  });
  const all = [["table", "file", "rows", "set aside", "columns read", "units"], ...rows];
  const widths = all[0]!.map((_, i) => Math.min(24, Math.max(...all.map((r) => r[i]!.length))));
  return all.map((r) =>
    cut(
      r
        .map((cell, i) =>
          i === 2 || i === 3 ? cell.padStart(widths[i]!) : cell.padEnd(widths[i]!),
        )
        .join("  ")
        .trimEnd(),
      WIDTH,
    ),
  );
}

/** Nothing that moves a cursor or colours a screen. */
function clean(text: string): string {
  return text.replace(/[\p{Cc}\p{Cf}]/gu, " ");
}

function cut(text: string, width: number): string {
  const tidy = clean(text);
  return tidy.length > width ? `${tidy.slice(0, width - 3)}...` : tidy;
}
