import { sizeLimits } from "../core/size-limits.js";
import type { DateStyle } from "../units/read-time.js";
import { requiredTables, tableNames } from "./columns.js";
import { readJsonGrid } from "./json-tables.js";
import { type KnownAnimals, knownAnimals } from "./known-animals.js";
import { blocksOfColumns } from "./layouts/block-of-columns.js";
import { columnOf, textAt } from "./layouts/changed-cells.js";
import { orderOfDates } from "./layouts/dates-in-style.js";
import { recogniseSideBySide } from "./layouts/side-by-side.js";
import { tableNamed } from "./match-headers.js";
import { openWorkbook } from "./open-workbook.js";
import type { StudyInput } from "./parse-study.js";
import { proposeForTable, type TableReading } from "./propose-for-table.js";
import type { TableProposal } from "./propose-mapping.js";
import type { RawGrid } from "./raw-table.js";
import { readTextGrid } from "./read-text-table.js";
import { readSettings, type StudyFile } from "./settings.js";
import { sheetTables, sheetTexts } from "./sheet-tables.js";
import type { TableName } from "./study.js";

/** A name that stands where an id belongs, and the animal it may mean. */
export interface NameProposal {
  readonly animal: string;
  readonly name: string;
  readonly count: number;
  /** By its whole name in the table of animals, or by less. */
  readonly sure: boolean;
}

/** All that may be meant by files that do not read as they are. Nothing is used before a person agrees. */
export interface StudyProposal {
  readonly tables: readonly TableProposal[];
  readonly names: readonly NameProposal[];
}

/**
 * Looks through a study's files for tables, layouts, columns and names that are
 * not as ours are, and proposes what they may mean. Files that read as they are
 * get no proposal.
 *
 * @example proposeForStudy([]).tables // []
 */
export function proposeForStudy(inputs: readonly StudyInput[]): StudyProposal {
  const settings = inputs.find((i) => i.path.toLowerCase() === "study.json");
  if (settings === undefined) return { tables: [], names: [] };
  const study = readSettings(new TextDecoder().decode(settings.bytes));
  const grids = inputs.flatMap((input) => sourcesOf(input, study));
  const order = orderOfDates(cellsOf(grids));
  const sources = grids.map((source) => ({ ...source, order, twelveHours: false }));
  const nobody = knownAnimals([]);
  const first = sources.flatMap((s) =>
    s.named === null || s.named === "animals" ? readingsOf(s, "animals", nobody, study) : [],
  );
  const animalsRead = best(first.filter((r) => r.proposal.missing.length === 0));
  const animals = animalsRead === null ? nobody : animalsOf(animalsRead);
  const others = sources.filter((s) => s.grid.file !== animalsRead?.grid.file);
  const readAll = (twelveHours: boolean) =>
    others.map((s) => ({
      named: s.named !== null,
      found: bestOf({ ...s, twelveHours }, animals, study),
    }));
  const once = readAll(false);
  const halves = (r: TableReading) =>
    [
      ...(r.proposal.layout ?? []).map((l) => l.step),
      ...(study.layouts.get(r.grid.file) ?? []),
    ].some((step) => step.layout === "twelve hours");
  const readings = once.some((s) => s.found.some(halves)) ? readAll(true) : once;
  const chosen = [
    ...(animalsRead === null ? [] : [animalsRead]),
    ...chooseSources(readings, animalsRead !== null),
  ];
  return {
    tables: chosen.map((r) => r.proposal).filter(saysSomething),
    names: namesIn(chosen, animals, study),
  };
}

/** A file, sheet or block, and the table that its name or study.json says it is. */
interface Source {
  readonly grid: RawGrid;
  readonly named: TableName | null;
  /** Names around it, whose words may name an animal or say what is measured. */
  readonly around: readonly string[];
  /** The order in which the study's files write dates, where they agree. */
  readonly order: DateStyle | null;
  /** Whether another file of the study has a clock of twelve hours. */
  readonly twelveHours: boolean;
}

type FoundSource = Omit<Source, "order" | "twelveHours">;

/** The cells at the head of each source. */
function* cellsOf(sources: readonly FoundSource[]): Generator<string> {
  for (const { grid } of sources)
    for (const row of grid.rows.slice(0, 1000)) if (row.broken === undefined) yield* row.cells;
}

function sourcesOf(input: StudyInput, study: StudyFile): FoundSource[] {
  const { path, bytes } = input;
  const told = (source: string) => study.sources.find((s) => s.source === source)?.table;
  const stem = path.replace(/\.[a-z]+$/i, "");
  const named = told(path) ?? tableNamed(stem);
  const decimal =
    (named === null ? undefined : study.decimals.get(named)) ?? study.settings.decimal;
  const cut = (grid: RawGrid, table: TableName | null, around: readonly string[]) => {
    // Wider than a table may be: it is refused by name, and nothing is proposed for it.
    if (grid.rows.some((row) => row.cells.length > sizeLimits.columns)) return [];
    if (study.layouts.get(grid.file)?.some((step) => step.layout === "leave out")) return [];
    const names = study.sources.map((s) => s.source);
    return blocksOfColumns(grid, names, []).map((block) => ({
      grid: block,
      named: told(block.file) ?? table,
      around,
    }));
  };
  if (/\.(csv|tsv|tab)$/i.test(path)) return cut(readTextGrid(path, bytes), named, [stem]);
  if (/\.json$/i.test(path) && named !== null)
    return [{ grid: readJsonGrid(path, bytes, decimal), named, around: [] }];
  if (!/\.(xlsx|xlsm|xls|ods)$/i.test(path)) return [];
  return (input.sheets ?? openWorkbook(path, bytes)).flatMap((sheet) => {
    const own = told(`${path}#${sheet.name}`) ?? tableNamed(sheet.name);
    // Several tables on one sheet read by their own headings, or not at all.
    const tables = new Set(sheetTables(path, sheet, study, decimal).map((t) => t.table));
    if (tables.size > 1) return [];
    const alone = [...tables][0] ?? null;
    return cut(sheetTexts(path, sheet, decimal), own ?? alone, [sheet.name, stem]);
  });
}

function readingsOf(
  source: Source,
  table: TableName,
  animals: KnownAnimals,
  study: StudyFile,
): TableReading[] {
  const { grid, around, order, twelveHours } = source;
  const named = source.named !== null;
  return proposeForTable(grid, table, { study, animals, around, named, order, twelveHours });
}

const recordTables = tableNames.filter(
  (name) => name !== "decisions" && name !== "acknowledgements" && name !== "answers",
);

/** The best reading of a source: as one table, or as the blocks it may consist of. */
function bestOf(source: Source, animals: KnownAnimals, study: StudyFile): TableReading[] {
  const read = (s: Source) =>
    best(
      (s.named === null ? recordTables : [s.named]).flatMap((t) =>
        readingsOf(s, t, animals, study),
      ),
    );
  const whole = read(source);
  const blocks = recogniseSideBySide(source.grid);
  if (blocks.length > 1 && !source.grid.file.includes("!")) {
    const names = blocks.map((b) => b.source);
    const parts = blocksOfColumns(source.grid, names, []).map((grid) => {
      const single = read({ ...source, grid });
      // Blocks of another kind than the file's name says are met, too.
      return single === null || single.proposal.missing.length > 0
        ? read({ ...source, grid, named: null })
        : single;
    });
    const good = parts.flatMap((p) => (p !== null && p.proposal.missing.length === 0 ? [p] : []));
    if (good.length === parts.length) {
      const both = good.flatMap((p) => {
        const second = secondTable(p, { ...source, grid: p.grid, named: null }, animals, study);
        return second === null ? [p] : [p, second];
      });
      return both.map((p) => ({ ...p, proposal: { ...p.proposal, named: false } }));
    }
  }
  if (whole === null) return [];
  const second = source.named === null ? secondTable(whole, source, animals, study) : null;
  return second === null ? [whole] : [whole, second];
}

/** A list of weighings may hold feeds as well, in a column of their own, and the other way round. */
function secondTable(
  { proposal, headers }: TableReading,
  source: Source,
  animals: KnownAnimals,
  study: StudyFile,
): TableReading | null {
  const { table, missing, layout = [] } = proposal;
  if (missing.length > 0 || layout.some((r) => r.step.layout === "across")) return null;
  if (table !== "weighings" && table !== "feeds") return null;
  const other = best(readingsOf(source, table === "feeds" ? "weighings" : "feeds", animals, study));
  if (other === null || other.proposal.missing.length > 0) return null;
  const [mass, offered] = [headers, other.headers].map(
    (h) => h.get("mass_g") ?? h.get("offered_g"),
  );
  const across = (other.proposal.layout ?? []).some((r) => r.step.layout === "across");
  return mass === undefined || mass === offered || across ? null : other;
}

function best(readings: readonly TableReading[]): TableReading | null {
  return readings.reduce<TableReading | null>(
    (b, r) => (b === null || r.proposal.confidence > b.proposal.confidence ? r : b),
    null,
  );
}

/**
 * Named files are what they are named. Of the others a table gets the best one,
 * and those that look like it: the same headings, or laid out in the same way.
 */
function chooseSources(
  all: readonly { readonly named: boolean; readonly found: readonly TableReading[] }[],
  animalsKnown: boolean,
): TableReading[] {
  const chosen = all.filter((s) => s.named).flatMap((s) => s.found);
  const open = all
    .filter((s) => !s.named)
    .flatMap((s) => s.found)
    .filter((r) => r.proposal.confidence >= 0.5)
    .filter((r) => !(animalsKnown && r.proposal.table === "animals"))
    .sort((a, b) => b.proposal.confidence - a.proposal.confidence);
  for (const reading of open) {
    const { table, missing } = reading.proposal;
    const same = chosen.filter((c) => c.proposal.table === table);
    // Beside a table in the study's own folder one further down is a copy, or another study's.
    if (inFolder(reading) && same.some((c) => !inFolder(c))) continue;
    const likeOne = same.some((c) => shape(c) === shape(reading));
    const surely = missing.length === 0 && reading.proposal.confidence >= 0.75;
    if (same.length === 0 || likeOne || (surely && !requiredTables.includes(table)))
      chosen.push(reading);
    else if (surely && same.every((c) => shape(c) !== "plain" || shape(reading) !== "plain"))
      chosen.push(reading);
  }
  return chosen;
}

const inFolder = ({ grid }: TableReading) => grid.file.includes("/");

/** Layouts by name; for a plain table its columns. */
function shape(reading: TableReading): string {
  const { layout = [], columns } = reading.proposal;
  const kinds = layout.map((r) => r.step.layout).filter((kind) => kind !== "heading");
  const cut = reading.grid.file.includes("!") ? "block " : "";
  return `${cut}${kinds.join(" ")}|${columns
    .map((c) => c.column)
    .sort()
    .join(" ")}`;
}

function saysSomething({ columns, layout = [], named, missing }: TableProposal): boolean {
  return columns.length > 0 || layout.length > 0 || named !== true || missing.length > 0;
}

function animalsOf(reading: TableReading): KnownAnimals {
  const id = columnOf(reading.raw, reading.headers.get("animal_id"));
  const name = columnOf(reading.raw, reading.headers.get("name"));
  return knownAnimals(
    reading.raw.rows
      .filter((row) => row.broken === undefined && textAt(row, id) !== "")
      .map((row) => ({ id: textAt(row, id), name: name < 0 ? "" : textAt(row, name) })),
  );
}

/** What stands where ids belong and is none, with the animal it may mean. */
function namesIn(
  readings: readonly TableReading[],
  animals: KnownAnimals,
  study: StudyFile,
): NameProposal[] {
  const counts = new Map<string, number>();
  for (const { raw, headers, proposal } of readings) {
    const at = proposal.table === "animals" ? -1 : columnOf(raw, headers.get("animal_id"));
    if (at >= 0)
      for (const row of raw.rows) {
        const name = row.broken === undefined ? textAt(row, at) : "";
        if (name !== "") counts.set(name, (counts.get(name) ?? 0) + 1);
      }
  }
  return [...counts].flatMap(([name, count]) => {
    const meant = animals.meant(name);
    if (meant === null || meant.by === "id" || study.alsoCalled.has(name.toLowerCase())) return [];
    return [{ animal: meant.id, name, count, sure: meant.by === "name" }];
  });
}
