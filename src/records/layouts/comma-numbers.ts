import { notice } from "../../core/notice.js";
import type { RawTable } from "../raw-table.js";
import { changeRows, columnOf, textAt, withCell } from "./changed-cells.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised } from "./recognised.js";

const comma = /^([-+]?\d+),(\d+)(\s*[a-zA-Z]{1,3}\.?)?$/;

/** Numbers with a comma are written with a point, or without the comma where it groups thousands. */
export function applyCommaNumbers(raw: RawTable, step: StepOf<"numbers">): RawTable {
  const places = step.columns.map((name) => columnOf(raw, name)).filter((i) => i >= 0);
  const mark = step.comma === "decimal" ? "." : "";
  return changeRows(raw, (row) => {
    let read = row;
    for (const i of places) {
      const text = textAt(row, i);
      if (comma.test(text)) read = withCell(read, i, text.replace(",", mark));
    }
    return read;
  });
}

/**
 * Columns of numbers with commas and no points, in a study whose mark is the
 * point. A comma before other than three digits can only be a decimal mark;
 * before three everywhere it is one in kilograms and pounds, and groups
 * thousands in grams.
 */
export function recogniseCommaNumbers(
  raw: RawTable,
  columns: readonly { readonly heading: string; readonly unit: string | null }[],
): Recognised | null {
  const found = columns.flatMap(({ heading, unit }) => {
    const at = columnOf(raw, heading);
    const cells = raw.rows.slice(0, 500).flatMap((row) => textAt(row, at) || []);
    const parts = cells.flatMap((cell) => comma.exec(cell)?.[2] ?? []);
    const example = cells.find((cell) => comma.test(cell));
    if (example === undefined || cells.some((cell) => /\d\.\d/.test(cell))) return [];
    if (parts.length < 2 || parts.length < 0.2 * cells.length) return [];
    const decimal = parts.some((part) => part.length !== 3) || unit === "kg" || unit === "lb";
    return [{ heading, decimal, example }];
  });
  const first = found[0];
  if (first === undefined) return null;
  const alike = found.filter((f) => f.decimal === first.decimal);
  const meaning = first.decimal ? "decimal" : "thousands";
  return {
    step: { layout: "numbers", columns: alike.map((f) => f.heading), comma: meaning },
    why: notice("propose-comma-numbers", "info", {
      columns: alike.map((f) => f.heading),
      meaning,
      example: first.example,
      read: first.example.replace(",", first.decimal ? "." : ""),
    }),
  };
}
