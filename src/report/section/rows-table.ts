import { type Cell, isMeasured, type Table, table } from "./section.js";

/**
 * Plain rows as a table: the columns are the names found in the rows, in order
 * of appearance.
 *
 * @example rowsTable("masses", "Mass by day", [{ day: "2025-05-01", mass: 2400 }]).columns.length // 2
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
      title: fieldWords(key),
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
