import { noticeText } from "../core/catalogue.js";
import type { Notice } from "../core/notice.js";
import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import type { Wording } from "../core/wording.js";
import type { StudyProposal } from "../records/propose-for-study.js";
import type { SetAsideRow, Study } from "../records/study.js";
import type { StudySummary } from "../records/summarise-study.js";
import { proposalLines } from "./check-proposals.js";
import type { DoubtedFeed, SlipInCheck } from "./check-tables.js";
import { inLine } from "./on-screen.js";
import { wrapText } from "./wrap-text.js";

/** Everything the screen of a check shows. */
export interface CheckScreen {
  readonly study: Study;
  readonly summary: StudySummary;
  readonly slips: readonly SlipInCheck[];
  readonly feeds: readonly DoubtedFeed[];
  /** What became of each decision: applied, or without a row. */
  readonly decisions: readonly Notice[];
  readonly proposals: StudyProposal;
  readonly folder: string;
  readonly wording: Wording;
  /** Files with the full lists. */
  readonly written: readonly string[];
  /** What --save-mapping wrote into study.json; null where it was not asked for. */
  readonly saved: readonly string[] | null;
  /** Characters in a line of the terminal. */
  readonly width: number;
}

/**
 * The state of a study on one screen, wrapped to the terminal: rows of one
 * reason stand together, no advice is cut, and it ends with what to do first.
 */
export function checkText(screen: CheckScreen): string {
  const { study, summary, slips, proposals, wording } = screen;
  const lines: string[] = [
    `${shortened(inLine(summary.title), sizeLimits.repeatedLetters)} (times in ${summary.zone})`,
    "",
  ];
  lines.push(...tableLines(study, summary, screen.width), ...emptyTables(summary), "");
  lines.push(
    `${summary.rowsIn} rows = ${summary.accepted} accepted (${summary.acceptedWithNotice} with a notice) + ${summary.setAside} set aside`,
  );
  const list = (
    title: string,
    all: readonly string[],
    most: number,
    what: readonly [one: string, many: string],
  ) => {
    if (all.length === 0) return;
    lines.push("", title, ...all.slice(0, most).map((line) => `  ${line}`));
    const more = all.length - most;
    if (more > 0) lines.push(`  and ${more} more ${more === 1 ? what[0] : what[1]}`);
  };
  const saved = (screen.saved ?? []).map(inLine);
  list("Written into study.json; look it over:", saved, saved.length, ["", ""]);
  if (screen.saved?.length === 0) lines.push("", "Nothing was proposed; study.json is as it was.");
  const groups = reasonGroups(study.setAside, wording);
  list(
    "Set aside:",
    groups.map((g) => `${g.where}: ${g.example}${g.reason} ${g.todo}`),
    3,
    ["reason", "reasons"],
  );
  lines.push(...proposalLines(proposals, wording));
  list(
    "Suspected slips:",
    slips.map(
      ({ animalId, weighing: w }) =>
        `${w.row.origin.file}:${w.row.origin.line} ${animalId}: ${noticeText(w.why, wording)}`,
    ),
    2,
    ["slip", "slips"],
  );
  list(
    "Suspected slips of feeds:",
    screen.feeds.map(
      ({ animalId, feed: f }) =>
        `${f.row.origin.file}:${f.row.origin.line} ${animalId}: ${noticeText(f.slip!.why, wording)}`,
    ),
    2,
    ["feed", "feeds"],
  );
  // A decision that met no row is never cut off: nothing else would tell.
  const missed = screen.decisions.filter((n) => n.level !== "info");
  const all = [...missed, ...screen.decisions.filter((n) => n.level === "info")];
  list(
    "Decisions:",
    all.map((n) => `${n.place?.file}:${n.place?.line}: ${noticeText(n, wording)}`),
    Math.max(missed.length, 6),
    ["decision, applied", "decisions, all applied"],
  );
  list(
    "Notices:",
    summary.notices
      .filter((n) => n.level !== "info")
      .map((n) => {
        const place = n.first.place;
        const where = [place?.file ?? place?.table, place?.line].filter((x) => x !== undefined);
        const more = n.count > 1 ? ` (${n.count} times)` : "";
        const { written } = n.first.parameters;
        const cell =
          typeof written === "string"
            ? ` ${place?.column ?? ""} ${JSON.stringify(shortened(inLine(written), sizeLimits.lineLetters))}`
            : "";
        return `${where.join(":")}${cell}: ${noticeText(n.first, wording)}${more}`;
      }),
    3,
    ["kind of notice", "kinds of notice"],
  );
  if (screen.written.length > 0) lines.push("", `Full lists: ${screen.written.join(", ")}`);
  lines.push("", ...firstSteps(screen, groups));
  return lines.flatMap((line) => wrapText(inLine(line), screen.width)).join("\n");
}

interface ReasonGroup {
  readonly count: number;
  readonly where: string;
  readonly example: string;
  readonly reason: string;
  readonly todo: string;
}

/** Rows set aside for one reason in one file and column, most rows first. */
function reasonGroups(rows: readonly SetAsideRow[], wording: Wording): ReasonGroup[] {
  const groups = new Map<string, SetAsideRow[]>();
  for (const row of rows) {
    const key = JSON.stringify([row.file, row.column, row.reason.code, row.suggestion.code]);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [row]);
    else group.push(row);
  }
  return [...groups.values()]
    .sort((a, b) => b.length - a.length)
    .map((group) => {
      const first = group[0]!;
      const places = group.slice(0, 4).map((row) => row.cell ?? String(row.line));
      const more = group.length > 4 ? ` and ${group.length - 4} more` : "";
      const column = first.column === null ? "" : ` ${first.column}`;
      const where =
        group.length === 1
          ? `${first.file}:${places[0]}${column}`
          : `${group.length} rows of ${first.file}${column}, ${first.cell === undefined ? "lines" : "cells"} ${places.join(", ")}${more}`;
      const value =
        first.value === null ? "" : shortened(inLine(first.value), sizeLimits.lineLetters);
      return {
        count: group.length,
        where,
        example: first.value === null ? "" : `${JSON.stringify(value)}: `,
        reason: noticeText(first.reason, wording),
        todo: noticeText(first.suggestion, wording),
      };
    });
}

/** What to do first, in the order in which it helps most; one line each. */
function firstSteps(screen: CheckScreen, groups: readonly ReasonGroup[]): string[] {
  const { proposals, slips, folder, written } = screen;
  const steps: string[] = [];
  // What was looked for and not found cannot be agreed to.
  const some = proposals.tables.some(
    (t) => t.columns.length + (t.layout ?? []).length > 0 || t.named !== true,
  );
  if (some || proposals.names.length > 0)
    steps.push(
      `Look the proposals over; to agree: gramline check ${inLine(folder)} --save-mapping`,
    );
  const most = groups[0];
  if (most !== undefined) steps.push(`${most.where}: ${most.todo}`);
  const decisions = written.find((name) => name.includes("decisions-to-make"));
  if (slips.length + screen.feeds.length > 0)
    steps.push(
      decisions === undefined
        ? "Decide about the suspected slips in decisions.csv."
        : `Fill in ${decisions} and put it into the folder as decisions.csv.`,
    );
  if (screen.decisions.some((n) => n.level !== "info"))
    steps.push("Mend the decisions that were not applied.");
  const strangers = (screen.study.standIns ?? []).map((a) =>
    shortened(inLine(a.animalId), sizeLimits.lineLetters),
  );
  if (strangers.length > 0)
    steps.push(
      `Write ${screen.wording.list(strangers.slice(0, 6))}${strangers.length > 6 ? ` and ${strangers.length - 6} more` : ""} into the table of animals: rows of theirs are used without age and arrival.`,
    );
  const partly = screen.summary.notices.filter(
    (n) => n.level === "problem" && n.first.place?.line !== undefined,
  );
  const first = partly.sort((a, b) => b.count - a.count)[0]?.first.place;
  if (first !== undefined)
    steps.push(`Ask about the rows that were read in part, first ${first.file}:${first.line}.`);
  if (steps.length === 0)
    return screen.summary.notices.some((n) => n.level !== "info")
      ? ["What to do first: every row was read; look the notices over."]
      : ["Nothing to do: every row was read."];
  if (steps.length === 1) return [`What to do first: ${steps[0]}`];
  return ["What to do first:", ...steps.map((step, i) => `  ${i + 1}. ${step}`)];
}

function tableLines(study: Study, summary: StudySummary, width: number): string[] {
  const rows = summary.counts.filter(holdsRows).map((c) => {
    const columns = (study.columns ?? []).filter((u) => u.file === c.file && u.table === c.table);
    const units = columns.filter((u) => u.unit !== null).map((u) => `${u.column} in ${u.unit}`);
    const read = columns.filter((u) => u.column !== null).length;
    return [
      c.table,
      inLine(c.file),
      String(c.rowsIn),
      String(c.setAside),
      `${read} of ${columns.length}`,
      units.join(", "),
    ];
  });
  if (rows.length === 0) return [];
  const all = [["table", "file", "rows", "set aside", "columns read", "units"], ...rows];
  // Where the line is short, units go; the full lists have them.
  const shown = width < 80 ? 4 : 6;
  const widths = all[0]!.map((_, i) => Math.min(24, Math.max(...all.map((r) => r[i]!.length))));
  return all.flatMap((r) => {
    const cells = r
      .slice(0, shown)
      .map((cell, i) =>
        i === 2 || i === 3
          ? cell.padStart(widths[i]!)
          : cell.padEnd(i === shown - 1 ? 0 : widths[i]!),
      );
    // The last cell goes on under itself, so that the columns before it stay columns.
    const before = cells.slice(0, -1).join("  ");
    const [first = "", ...further] = wrapText(
      cells.at(-1)!,
      Math.max(16, width - before.length - 2),
    );
    const under = " ".repeat(before.length + 2);
    return [`${before}  ${first}`.trimEnd(), ...further.map((line) => `${under}${line.trim()}`)];
  });
}

const holdsRows = ({ rowsIn }: { readonly rowsIn: number }) => rowsIn > 0;

/** Tables that are there and wait for their first row: one line a file, not one a sheet. */
function emptyTables(summary: StudySummary): string[] {
  const empty = summary.counts.filter((c) => !holdsRows(c));
  const inWorkbook = (file: string) => inLine(file.split("#")[0] ?? file);
  return [...new Set(empty.map((c) => inWorkbook(c.file)))].map(
    (file) =>
      `No rows yet in ${file}: ${empty
        .filter((c) => inWorkbook(c.file) === file)
        .map((c) => c.table)
        .join(", ")}`,
  );
}
