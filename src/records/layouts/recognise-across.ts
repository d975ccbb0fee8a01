import { notice } from "../../core/notice.js";
import type { KnownAnimals } from "../known-animals.js";
import type { RawGrid, RawRow } from "../raw-table.js";
import type { StudyFile } from "../settings.js";
import type { TableName } from "../study.js";
import { headingKey } from "./across.js";
import { filledCells, firstRows } from "./changed-cells.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised } from "./recognised.js";
import { titlesAbove } from "./titles-above.js";
import { isTotal } from "./total-words.js";

/** A table whose headings are days, animals or clock times: its steps and which table it may be. */
export interface AcrossFound {
  readonly table: TableName;
  readonly heading: readonly number[];
  readonly across: Recognised & { readonly step: StepOf<"across"> };
}

/**
 * Looks for a heading line of days, animals or clock times. `told` is the table
 * that the file or sheet is named after; `around` are names and titles, whose
 * words say what is measured and in which unit.
 */
export function recogniseAcross(
  grid: RawGrid,
  told: TableName | null,
  around: readonly string[],
  animals: KnownAnimals,
  study: StudyFile,
): AcrossFound | null {
  const rows = grid.rows.slice(0, 40).filter((row) => row.broken === undefined);
  let best: { keys: Keys; row: RawRow; lines: number[] } | null = null;
  const better = (keys: Keys | null, row: RawRow, lines: number[]) => {
    if (keys !== null && (best === null || keys.count > best.keys.count))
      best = { keys, row, lines };
  };
  const hints = [...around, ...rows.slice(0, 3).flatMap((row) => row.cells)];
  for (const [i, row] of rows.entries()) {
    if (filledCells(row) < 2) continue;
    for (const headings of ["days", "animals", "times"] as const)
      better(keysOf(row.cells, headings, hints, animals, study), row, [row.line]);
    const below = rows[i + 1];
    if (below === undefined || filledCells(below) < 2) continue;
    const joined = twoLines(row, below);
    better(keysOf(joined, "days", hints, animals, study), { ...below, cells: joined }, [
      row.line,
      below.line,
    ]);
  }
  if (best === null) return null;
  const { keys, row, lines } = best as { keys: Keys; row: RawRow; lines: number[] };
  const amounts = amountsBelow(grid, lines.at(-1)!, keys.places);
  if (amounts.filled < 2 || amounts.numbers < 0.6 * amounts.filled) return null;
  const titles = titlesAbove(grid, lines[0]!);
  const what = whatIsMeasured(told, [...titles, ...around], keys.headings);
  if (what === null) return null;
  const amount = withUnit(
    what.amount,
    [...titles, ...around, ...row.cells],
    amounts.median,
    amounts.broken,
  );
  const places = new Set(keys.places);
  const beside = row.cells.filter((c, i) => c.trim() !== "" && !places.has(i) && !isTotal(c));
  const date = row.cells.find((_, i) => !places.has(i) && isDateColumn(grid, lines.at(-1)!, i));
  if (
    keys.headings === "times" &&
    date === undefined &&
    ![...titles, ...around].some((t) => /\d/.test(t))
  )
    return null;
  const shown = keys.places.map((i) => row.cells[i]!.trim());
  return {
    table: what.table,
    heading: lines,
    across: {
      step: {
        layout: "across",
        headings: keys.headings,
        amount: amount.heading,
        ...(keys.year === undefined ? {} : { year: keys.year }),
        ...(keys.month === undefined ? {} : { month: keys.month }),
        ...(keys.style === undefined ? {} : { style: keys.style }),
        ...(keys.headings === "animals" ? { beside } : {}),
        ...(keys.headings === "times" ? { date: date?.trim() ?? "date" } : {}),
      },
      why: notice("propose-across", "info", {
        headings: keys.headings,
        first: shown[0]!,
        last: shown.at(-1)!,
        count: shown.length,
        amount: amount.heading,
        guessed: amount.guessed,
        year: keys.year ?? null,
      }),
    },
  };
}

interface Keys {
  readonly headings: "days" | "animals" | "times";
  readonly places: readonly number[];
  readonly count: number;
  readonly year?: number;
  readonly month?: number;
  readonly style?: "day-month-year" | "month-day-year";
}

function keysOf(
  cells: readonly string[],
  headings: Keys["headings"],
  hints: readonly string[],
  animals: KnownAnimals,
  study: StudyFile,
): Keys | null {
  const { dateStyle } = study.settings;
  const filled = cells.filter((c) => c.trim() !== "" && !isTotal(c)).length;
  const found = (more: Pick<Keys, "year" | "month" | "style">): Keys | null => {
    const places = cells.flatMap((cell, i) => {
      const text = cell.trim();
      const key =
        text === ""
          ? null
          : headings === "animals"
            ? animals.meant(text)
            : headingKey(text, { headings, ...more }, { dateStyle });
      return key === null ? [] : [i];
    });
    const enough = places.length >= 2 && places.length >= 0.5 * filled;
    return enough ? { headings, places, count: places.length, ...more } : null;
  };
  if (headings !== "days") return found({});
  const years = hints.flatMap((h) => h.match(/\b(?:19|20)\d\d\b/g) ?? []);
  const year = new Set(years).size === 1 ? Number(years[0]) : undefined;
  // Days of a month that only a title names: 1 2 3 4.
  const month = monthIn(hints);
  if (month !== null && year !== undefined) {
    const days = found({ year, month });
    if (
      days !== null &&
      days.count >= 4 &&
      days.places.every((i) => /^\d{1,2}\.?$/.test(cells[i]!.trim()))
    )
      return days;
  }
  const styles = [undefined, "day-month-year", "month-day-year"] as const;
  const options = styles.flatMap((style) =>
    [undefined, year].flatMap((y) => {
      const keys = found({
        ...(style === undefined ? {} : { style }),
        ...(y === undefined ? {} : { year: y }),
      });
      return keys === null ? [] : [keys];
    }),
  );
  // The plainest of those that read most headings; two orders that read alike are no answer.
  const most = Math.max(0, ...options.map((o) => o.count));
  const reading = options.filter((o) => o.count === most);
  const plain = reading.find((o) => o.style === undefined);
  if (plain !== undefined) return plain;
  return new Set(reading.map((o) => o.style)).size === 1 ? reading[0]! : null;
}

const months = "jan feb mar apr may jun jul aug sep oct nov dec".split(" ");

/** The one month that names and titles speak of ("March 2025", "2025-03"); null for none or several. */
function monthIn(hints: readonly string[]): number | null {
  const found = new Set(
    hints.flatMap((hint) => {
      const words = hint.toLowerCase().match(/\p{L}{3,}/gu) ?? [];
      const named = words.flatMap((word) => {
        const at = months.findIndex((m) => word.startsWith(m) && word.length <= 9);
        return at < 0 || word === "mark" ? [] : [at + 1];
      });
      const dated = /\b(?:19|20)\d\d[-/_.](0?[1-9]|1[0-2])\b(?![-/.]\d)/.exec(hint)?.[1];
      return dated === undefined ? named : [...named, Number(dated)];
    }),
  );
  return found.size === 1 ? [...found][0]! : null;
}

function twoLines(upper: RawRow, lower: RawRow): string[] {
  let above = "";
  return Array.from({ length: Math.max(upper.cells.length, lower.cells.length) }, (_, c) => {
    const own = (upper.cells[c] ?? "").trim();
    if (own !== "") above = own;
    const below = (lower.cells[c] ?? "").trim();
    if (below === "" || below === above) return own === "" ? below : own;
    return above === "" ? below : `${above} ${below}`;
  });
}

function amountsBelow(grid: RawGrid, line: number, places: readonly number[]) {
  const cells = firstRows(grid, 200, line)
    .filter((row) => !isTotal(row.cells.find((c) => c.trim() !== "") ?? ""))
    .flatMap((row) => places.map((i) => (row.cells[i] ?? "").trim()))
    .filter((cell) => cell !== "" && !/^[-–—.]+$/.test(cell));
  const numbers = cells.filter((cell) => /^\d+(?:[.,]\d+)?\s*\p{L}{0,3}\.?$/u.test(cell));
  const values = numbers.map((c) => Number.parseFloat(c.replace(",", "."))).sort((a, b) => a - b);
  return {
    filled: cells.length,
    numbers: numbers.length,
    median: values[Math.floor(values.length / 2)] ?? 0,
    broken: numbers.some((c) => /[.,]\d/.test(c)),
  };
}

/** What the cells hold, by the name of the file or sheet, else by the words of its titles. */
function whatIsMeasured(
  told: TableName | null,
  around: readonly string[],
  headings: Keys["headings"],
): { readonly table: TableName; readonly amount: string } | null {
  const weighings = { table: "weighings", amount: "mass" } as const;
  const feeds = { table: "feeds", amount: "offered" } as const;
  if (told === "weighings") return weighings;
  if (told === "feeds") return feeds;
  if (told !== null) return null;
  const text = around.join(" ").toLowerCase();
  const fed =
    /feed|fed\b|milk|formula|bottle|offered|intake|fütter|futter|ration|tomas|biberon/.test(text);
  const weighed = /weigh|mass\b|\bwt\b|gewicht|poids|peso|scale/.test(text);
  if (fed !== weighed) return fed ? feeds : weighings;
  return headings === "days" ? weighings : null;
}

/** A unit that titles or headings name; grams otherwise, unless the numbers can only be kilograms. */
function withUnit(amount: string, texts: readonly string[], median: number, broken: boolean) {
  const unit =
    /[([]\s*(g|kg|lb|oz|ml|grams?|kilos?)\s*[)\]]|\bin (g|kg|lb|oz|ml|grams?|kilograms?)\b/i;
  const named = texts.map((text) => unit.exec(text)).find((m) => m !== null);
  if (named !== undefined && named !== null)
    return { heading: `${amount} (${(named[1] ?? named[2])!})`, guessed: false };
  const kilograms = amount === "mass" && broken && median < 100;
  return { heading: kilograms ? "mass (kg)" : `${amount}_g`, guessed: kilograms };
}

function isDateColumn(grid: RawGrid, line: number, column: number): boolean {
  const cells = grid.rows
    .filter((row) => row.line > line)
    .slice(0, 30)
    .map((row) => (row.cells[column] ?? "").trim())
    .filter((cell) => cell !== "");
  return (
    cells.length > 0 &&
    cells.filter((c) => /^\d{1,4}[-/. ]\w{1,9}[-/. ]\d{1,4}$/.test(c)).length > 0.5 * cells.length
  );
}
