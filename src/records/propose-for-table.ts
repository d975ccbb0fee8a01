import { notice } from "../core/notice.js";
import { unitNamed } from "../units/quantity.js";
import type { DateStyle } from "../units/read-time.js";
import { type Column, tableColumns } from "./columns.js";
import type { KnownAnimals } from "./known-animals.js";
import { recogniseAsAbove } from "./layouts/as-above.js";
import { recogniseDates } from "./layouts/dates-in-style.js";
import { recogniseDayNumbers } from "./layouts/day-numbers.js";
import { recogniseEatenOfOffered } from "./layouts/eaten-of-offered.js";
import { recogniseForeignMarks } from "./layouts/foreign-marks.js";
import { belowHeading, findHeading } from "./layouts/heading.js";
import { columnsGiven, layOut } from "./layouts/lay-out.js";
import type { LayoutStep } from "./layouts/layout-step.js";
import { recogniseNightDates } from "./layouts/night-dates.js";
import { recogniseAcross } from "./layouts/recognise-across.js";
import { recogniseAnimal } from "./layouts/recognise-animal.js";
import { recogniseDay } from "./layouts/recognise-day.js";
import type { Recognised, TableRoles } from "./layouts/recognised.js";
import { titlesAbove } from "./layouts/titles-above.js";
import { recogniseTwelveHours } from "./layouts/twelve-hours.js";
import { joinColumns, matchHeaders, readHeader } from "./match-headers.js";
import { proposeMapping, type TableProposal } from "./propose-mapping.js";
import type { RawGrid, RawTable } from "./raw-table.js";
import type { StudyFile } from "./settings.js";
import type { TableName } from "./study.js";

/** A proposal for one source, and the table as it would then be read. */
export interface TableReading {
  readonly grid: RawGrid;
  readonly proposal: TableProposal;
  readonly raw: RawTable;
  /** Their headings by our columns, those that need no proposal included. */
  readonly headers: ReadonlyMap<string, string>;
}

/** What is known where a source is looked at. */
export interface Look {
  readonly study: StudyFile;
  readonly animals: KnownAnimals;
  /** Names around the source: its sheet, its file. */
  readonly around: readonly string[];
  /** Whether its name or study.json says which table it is. */
  readonly named: boolean;
  /** The order in which the study's files write dates, where they agree. */
  readonly order: DateStyle | null;
  /** Whether another file of the study has a clock of twelve hours. */
  readonly twelveHours: boolean;
}

/**
 * How a file, sheet or block may be read as one table: where its heading
 * stands, how it is laid out, which heading is which column, how its cells are
 * meant. Each step is looked for in what the steps before it gave.
 */
export function proposeForTable(grid: RawGrid, table: TableName, look: Look): TableReading[] {
  const { study } = look;
  const agreed = study.layouts.get(grid.file) ?? [];
  const options = agreed.length > 0 ? [agreed.map(asAgreed)] : startsOf(grid, table, look);
  return options
    .map((steps) => finish(grid, table, look, steps, agreed.length))
    .filter((r) => r.proposal.confidence > 0)
    .sort((a, b) => worth(b) - worth(a))
    .slice(0, 1);
}

/** Of headings that fit alike the one with most rows below it: a heading may stand again. */
function worth({ grid, raw, proposal }: TableReading): number {
  const above = grid.rows.filter((row) => row.line < raw.headerLine).length;
  return proposal.confidence - (0.3 * above) / Math.max(1, grid.rows.length);
}

const asAgreed = (step: LayoutStep): Recognised => ({
  step,
  why: notice("propose-agreed", "info"),
});

/** Where the heading may stand: lines of words, each alone or with the line below it; headings across. */
function startsOf(grid: RawGrid, table: TableName, look: Look): Recognised[][] {
  const { around, animals, study, named } = look;
  const heading = (lines: readonly number[]): Recognised => ({
    step: { layout: "heading", lines: [...lines] },
    why: notice("propose-heading", "info", { lines }),
  });
  const known = findHeading(grid, table, study);
  if (known.length > 0 && complete(table, belowHeading(grid, known), study))
    return [[heading(known)]];
  const rows = grid.rows.slice(0, 40);
  const lines = rows
    .filter((row) => {
      if (row.broken !== undefined) return false;
      const filled = row.cells.map((cell) => cell.trim()).filter((cell) => cell !== "");
      const words = filled.filter((cell) => /\p{L}/u.test(cell) && !/^\d+[-/.]/.test(cell));
      return new Set(filled).size >= 2 && words.length >= 0.6 * filled.length;
    })
    .slice(0, 8)
    .map((row) => row.line);
  const starts = lines.flatMap((line) => {
    const next = rows.at(rows.findIndex((row) => row.line === line) + 1);
    const two =
      next !== undefined && lines.includes(next.line) ? [[heading([line, next.line])]] : [];
    return [[heading([line])], ...two];
  });
  const top = rows.at(0);
  if (lines.length === 0 && top !== undefined) starts.push([heading([top.line])]);
  const across = recogniseAcross(grid, named ? table : null, around, animals, study);
  if (across !== null && across.table === table)
    starts.push([heading(across.heading), across.across]);
  return starts;
}

function finish(
  grid: RawGrid,
  table: TableName,
  look: Look,
  start: readonly Recognised[],
  agreed: number,
): TableReading {
  const { around, animals, study, named } = look;
  const found = [...start];
  const has = (layout: LayoutStep["layout"]) => found.some((r) => r.step.layout === layout);
  const stepsOf = () => found.map((r) => r.step);
  const lines = found.flatMap((r) => (r.step.layout === "heading" ? r.step.lines : []));
  let raw = layOut(grid, table, study, stepsOf());
  let mapping = mapped(raw, table, study);
  const add = (recognised: Recognised | null) => {
    if (recognised === null) return;
    found.push(recognised);
    raw = layOut(grid, table, study, stepsOf());
  };
  const titles = [...titlesAbove(grid, lines[0] ?? 1), ...around];
  const lacks = (column: string) =>
    tableColumns[table].some((c) => c.name === column) && !mapping.headers.has(column);
  if (lacks("animal_id") && !mapping.headers.has("group_id") && table !== "animals")
    if (!has("one animal") && !has("animal above its rows"))
      add(recogniseAnimal(raw, grid, titles, animals));
  const hasDay = has("one day") || has("day above its rows");
  if (lacks("at") && !hasDay) add(recogniseDay(raw, grid, titles, study));
  const across = found.find((r) => r.step.layout === "across")?.step;
  if (
    across?.layout === "across" &&
    across.headings === "times" &&
    across.date === "date" &&
    !hasDay
  ) {
    // The day of a chart of clock times stands in its title: first the day, then the cells.
    const day = recogniseDay({ ...raw, header: ["time"] }, grid, titles, study);
    if (day !== null)
      found.splice(
        found.findIndex((r) => r.step === across),
        0,
        day,
      );
    raw = layOut(grid, table, study, stepsOf());
  }
  const given = ["one animal", "animal above its rows", "one day", "day above its rows", "across"];
  if (found.some((r) => given.includes(r.step.layout))) mapping = mapped(raw, table, study);

  const roles = rolesOf(mapping.headers, table, study);
  if (!has("as above") && !has("across")) add(recogniseAsAbove(raw, roles));
  const decimal = study.decimals.get(table) ?? study.settings.decimal;
  if (!has("numbers"))
    add(recogniseForeignMarks(raw, numberHeadings(mapping.headers, table), decimal));
  if (!has("day numbers")) add(recogniseDayNumbers(raw, dayHeadings(mapping.headers, table)));
  if (!has("dates"))
    add(
      recogniseDates(
        raw,
        dateHeadings(mapping.headers, table),
        study.settings.dateStyle,
        look.order,
      ),
    );
  if (!has("eaten of offered")) add(recogniseEatenOfOffered(raw, roles));
  if (!has("twelve hours") && !has("times as written"))
    add(recogniseTwelveHours(raw, roles, look.twelveHours));
  if (!has("night under the evening's date") && !has("times as written"))
    if (!has("twelve hours")) add(recogniseNightDates(raw, roles));

  const news = withoutNeedlessHeading(found.slice(agreed), grid, table, study, mapping);
  const proposal = {
    ...mapping.proposal,
    columns: mapping.proposal.columns.filter((c) => !mapping.known.has(c.column)),
    missing: mapping.proposal.missing.filter((column) => !mapping.known.has(column)),
    layout: news,
    named,
  };
  return { grid, proposal, raw, headers: mapping.headers };
}

interface Mapping {
  readonly proposal: TableProposal;
  readonly headers: ReadonlyMap<string, string>;
  /** Columns that are found without a proposal. */
  readonly known: ReadonlySet<string>;
}

function mapped(raw: RawTable, table: TableName, study: StudyFile): Mapping {
  const none = { file: raw.file, table, confidence: 0, missing: [], columns: [] };
  const proposal = proposeMapping(raw, study, table)[0] ?? none;
  const headers = new Map(proposal.columns.map((c) => [c.column, c.header]));
  const known = new Set<string>();
  for (const [column, header] of knownHeaders(raw, table, study)) {
    headers.set(column, header);
    known.add(column);
  }
  return { proposal, headers, known };
}

/** Columns that the readers find by themselves. */
function knownHeaders(raw: RawTable, table: TableName, study: StudyFile): [string, string][] {
  try {
    const { matched } = matchHeaders(table, joinColumns(table, raw, study), study);
    return matched.map((m) => [m.column.name, m.header]);
  } catch {
    return [];
  }
}

function complete(table: TableName, raw: RawTable, study: StudyFile): boolean {
  const known = new Set(knownHeaders(raw, table, study).map(([column]) => column));
  return tableColumns[table].every((c) => c.required !== true || known.has(c.name));
}

function rolesOf(
  headers: ReadonlyMap<string, string>,
  table: TableName,
  study: StudyFile,
): TableRoles {
  const at = headers.get("at") ?? headers.get("made_at");
  const [date, time] = at?.split(/\s+\+\s+/) ?? [];
  const animal = headers.get("animal_id");
  const group = headers.get("group_id");
  const kind = headers.get("diet_id") ?? headers.get("kind");
  const offered = table === "feeds" ? headers.get("offered_g") : undefined;
  return {
    study,
    ...(animal === undefined ? {} : { animal }),
    ...(group === undefined ? {} : { group }),
    ...(kind === undefined ? {} : { kind }),
    order: kind !== undefined && kind === headers.get("kind") ? "of kinds" : "of time",
    ...(date === undefined ? {} : { date, time: time ?? date }),
    ...(offered === undefined ? {} : { offered }),
  };
}

function dateHeadings(headers: ReadonlyMap<string, string>, table: TableName): string[] {
  return tableColumns[table]
    .filter(holdsDay)
    .flatMap((c) => headers.get(c.name)?.split(/\s+\+\s+/)[0] ?? []);
}

const holdsDay = ({ holds }: Column) =>
  holds === "date" ||
  holds === "rough date" ||
  holds === "instant" ||
  holds === "day start" ||
  holds === "ordered end";

/** Headings of days and of the clock times that stand beside them. */
function dayHeadings(headers: ReadonlyMap<string, string>, table: TableName): string[] {
  return tableColumns[table]
    .filter(holdsDay)
    .flatMap((c) => headers.get(c.name)?.split(/\s+\+\s+/) ?? []);
}

function numberHeadings(headers: ReadonlyMap<string, string>, table: TableName) {
  return tableColumns[table].flatMap((c) => {
    const heading = c.holds === "number" || c.holds === "value" ? headers.get(c.name) : undefined;
    if (heading === undefined) return [];
    const { unit, plain } = readHeader(heading);
    const tail = c.unit === "g" ? unitNamed(plain.split("_").at(-1) ?? "") : null;
    return [{ heading, unit: unit ?? tail, weighed: table === "weighings" && c.name === "mass_g" }];
  });
}

/** The heading need not be said where it is found by its columns. */
function withoutNeedlessHeading(
  found: readonly Recognised[],
  grid: RawGrid,
  table: TableName,
  study: StudyFile,
  mapping: Mapping,
): Recognised[] {
  const heading = found.find((r) => r.step.layout === "heading");
  if (heading?.step.layout !== "heading") return [...found];
  const rest = found.filter((r) => r !== heading);
  const headers = new Map(study.headers);
  for (const [column, header] of mapping.headers)
    if (!headers.has(`${table}.${column}`)) headers.set(`${table}.${column}`, [header]);
  const given = rest.flatMap((r) => columnsGiven(r.step));
  const lines = findHeading(grid, table, { ...study, headers }, given);
  const across = rest.some((r) => r.step.layout === "across");
  return !across && lines.join() === heading.step.lines.join() ? rest : [...found];
}
