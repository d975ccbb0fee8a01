import type { RawGrid, RawTable } from "../raw-table.js";
import type { StudyFile } from "../settings.js";
import type { TableName } from "../study.js";
import { ownRow } from "../text-row.js";
import { applyAcross } from "./across.js";
import { applyAsAbove } from "./as-above.js";
import { applyDates } from "./dates-in-style.js";
import { applyDayNumbers } from "./day-numbers.js";
import { readDittoMarks } from "./ditto-marks.js";
import { applyEatenOfOffered } from "./eaten-of-offered.js";
import { applyForeignMarks } from "./foreign-marks.js";
import { belowHeading, findHeading } from "./heading.js";
import type { LayoutStep } from "./layout-step.js";
import { type AboveStep, applyNamedAbove } from "./named-above.js";
import { applyNightDates } from "./night-dates.js";
import { applyOneForAll } from "./one-for-all.js";
import { leaveOutRepeatedHeadings } from "./repeated-headings.js";
import { applyTwelveHours } from "./twelve-hours.js";

/**
 * Makes a plain table of a file or sheet: finds its heading, leaves out
 * headings that stand again, reads ditto marks, then takes the steps a person
 * agreed to, in their order. Each row keeps its line, and its cells as written.
 */
export function layOut(
  asRead: RawGrid,
  table: TableName,
  study: StudyFile,
  steps: readonly LayoutStep[] = study.layouts.get(asRead.file) ?? [],
): RawTable {
  // Steps go through the cells of every row again and again; a heading needs none of them.
  const grid = steps.every((step) => step.layout === "heading")
    ? asRead
    : { ...asRead, rows: asRead.rows.map(ownRow) };
  const told = steps.find((step) => step.layout === "heading")?.lines;
  const lines = told ?? findHeading(grid, table, study, steps.flatMap(columnsGiven));
  let raw = belowHeading(grid, lines);
  // First of all: a line of its own is none of the rows.
  for (const step of steps.filter(isAbove))
    raw = applyNamedAbove(raw, step, grid, lines[0] ?? 1, study.settings.dateStyle);
  raw = readDittoMarks(leaveOutRepeatedHeadings(raw));
  for (const step of steps) raw = takeStep(raw, step, grid, table, study);
  return raw;
}

const isAbove = (step: LayoutStep): step is AboveStep =>
  step.layout === "animal above its rows" || step.layout === "day above its rows";

function takeStep(
  raw: RawTable,
  step: LayoutStep,
  grid: RawGrid,
  table: TableName,
  study: StudyFile,
): RawTable {
  const { dateStyle } = study.settings;
  switch (step.layout) {
    case "one animal":
      return applyOneForAll(raw, "animal_id", step.animal);
    case "one day":
      return applyOneForAll(raw, "date", step.date);
    case "across":
      return applyAcross(raw, step, { dateStyle, firstColumn: grid.firstColumn });
    case "as above":
      return applyAsAbove(raw, step);
    case "numbers":
      return applyForeignMarks(raw, step, study.decimals.get(table) ?? study.settings.decimal);
    case "day numbers":
      return applyDayNumbers(raw, step);
    case "dates":
      return applyDates(raw, step);
    case "twelve hours":
      return applyTwelveHours(raw, step, dateStyle);
    case "night under the evening's date":
      return applyNightDates(raw, step, dateStyle);
    case "eaten of offered":
      return applyEatenOfOffered(raw, step);
    default:
      return raw;
  }
}

/** Columns that a step supplies, which the heading therefore need not name. */
export function columnsGiven(step: LayoutStep): string[] {
  switch (step.layout) {
    case "one animal":
    case "animal above its rows":
      return ["animal_id"];
    case "one day":
    case "day above its rows":
      return ["date"];
    case "across":
      return [step.headings === "animals" ? "animal_id" : "at", step.amount];
    default:
      return [];
  }
}
