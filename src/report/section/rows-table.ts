import { capital } from "./capital.js";
import { type Cell, type Column, isMeasured, type Table, table } from "./section.js";

/** What the end of a field's name counts in, and how fine its computed figures are shown. */
const units: readonly (readonly [string, string, number])[] = [
  ["KcalPerDay", "kcal/d", 3],
  ["GramsPerDay", "g/d", 3],
  ["GPerDay", "g/d", 3],
  ["PercentOfBodyMass", "% of body mass", 2],
  ["PctPerDay", "%/d", 3],
  ["MlPerKg", "mL/kg", 3],
  ["Pct", "%", 3],
  ["Kcal", "kcal", 3],
  ["G", "g", 6],
];

/**
 * The heading of a field: its words, with its unit apart.
 *
 * @example fieldHeading("keptKcalPerDay") // { title: "Kept", unit: "kcal/d", digits: 3 }
 * @example fieldHeading("firstSolid") // { title: "First solid" }
 * @example fieldHeading("df") // { title: "df" }
 */
export function fieldHeading(key: string): Pick<Column, "title" | "unit" | "digits"> {
  const found = units.find(([end]) => key.endsWith(end) && key.length > end.length);
  if (found === undefined) return { title: headingWords(key) };
  const [end, unit, digits] = found;
  return { title: headingWords(key.slice(0, -end.length)), unit, digits };
}

/** Symbols (n, t, p, df) are written small wherever they stand. */
function headingWords(key: string): string {
  const words = fieldWords(key);
  return words.length > 2 ? capital(words) : words;
}

/**
 * Plain rows as a table: the columns are the names found in the rows, in order
 * of appearance.
 *
 * @example rowsTable("masses", "Mass by day", [{ day: "2025-05-01", massG: 2400 }]).columns[1].unit // "g"
 */
export function rowsTable(
  name: string,
  caption: string,
  rows: readonly Readonly<Record<string, Cell>>[],
): Table {
  const names: string[] = [];
  for (const row of rows)
    for (const key of Object.keys(row)) if (!names.includes(key)) names.push(key);
  const columns = names.map((key) => {
    const cells = rows.map((row) => row[key]).filter((cell) => cell !== null && cell !== undefined);
    const numeric = cells.length > 0 && cells.every((c) => typeof c === "number" || isMeasured(c));
    return {
      ...fieldHeading(key),
      align: numeric ? ("number" as const) : ("text" as const),
      ...(key === "source" ? { asWritten: true } : {}),
    };
  });
  return table(
    name,
    caption,
    columns,
    rows.map((row) => names.map((key) => row[key] ?? null)),
  );
}

/** "gainGPerDay" -> "gain g per day": names of fields as words. */
export function fieldWords(key: string): string {
  return key
    .replace(/([a-z0-9])([A-Z])/g, "$1 $2")
    .replace(/[_-]+/g, " ")
    .toLowerCase();
}
