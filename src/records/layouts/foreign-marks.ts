import { notice } from "../../core/notice.js";
import type { DecimalMark } from "../../units/read-quantity.js";
import type { RawTable } from "../raw-table.js";
import { changeRows, columnOf, textAt, withCell } from "./changed-cells.js";
import type { StepOf } from "./layout-step.js";
import type { Recognised } from "./recognised.js";

const forms = {
  comma: /^([-+]?\d+),(\d+)(\s*[a-zA-Z]{1,3}\.?)?$/,
  point: /^([-+]?\d+)\.(\d+)(\s*[a-zA-Z]{1,3}\.?)?$/,
};
const signs = { comma: ",", point: "." };

/** Numbers with the mark that is not the study's are written with it, or with none where it groups thousands. */
export function applyForeignMarks(
  raw: RawTable,
  step: StepOf<"numbers">,
  own: DecimalMark,
): RawTable {
  const places = step.columns.map((name) => columnOf(raw, name)).filter((i) => i >= 0);
  const mark = step.means === "decimal" ? signs[own] : "";
  return changeRows(raw, (row) => {
    let read = row;
    for (const i of places) {
      const text = textAt(row, i);
      if (forms[step.mark].test(text)) read = withCell(read, i, text.replace(/[.,]/, mark));
    }
    return read;
  });
}

interface NumberColumn {
  readonly heading: string;
  readonly unit: string | null;
  /** Whether it holds what animals weigh, which is never under 100 g. */
  readonly weighed: boolean;
}

/**
 * Columns of numbers with the mark that is not the study's, and none with its
 * own. Before other than three digits it can only be a decimal mark; before
 * three everywhere it is one in kilograms and pounds, and groups thousands in
 * grams, in weighings even where it is the study's own.
 */
export function recogniseForeignMarks(
  raw: RawTable,
  columns: readonly NumberColumn[],
  own: DecimalMark,
): Recognised | null {
  const other = own === "comma" ? "point" : "comma";
  return recogniseMark(raw, columns, own, other) ?? recogniseMark(raw, columns, own, own);
}

function recogniseMark(
  raw: RawTable,
  columns: readonly NumberColumn[],
  own: DecimalMark,
  mark: DecimalMark,
): Recognised | null {
  const found = columns.flatMap(({ heading, unit, weighed }) => {
    const at = columnOf(raw, heading);
    const cells = raw.rows.slice(0, 500).flatMap((row) => textAt(row, at) || []);
    const parts = cells.flatMap((cell) => forms[mark].exec(cell)?.[2] ?? []);
    const example = cells.find((cell) => forms[mark].test(cell));
    if (example === undefined) return [];
    // A cell that says kilograms itself has a decimal mark, whatever its heading says.
    const otherUnit = cells.some((cell) => /\p{L}/u.test(cell) && !/\d ?g\b/i.test(cell));
    if (mark !== own && cells.some((cell) => forms[own].test(cell))) return [];
    if (parts.length < 2 || parts.length < 0.2 * cells.length) return [];
    const whole = parts.every((part) => part.length === 3) && unit !== "kg" && unit !== "lb";
    const decimal = otherUnit || !whole;
    // The study's own mark groups thousands only where an animal would weigh next to nothing.
    const tiny = cells.every((cell) => Number.parseFloat(cell.replace(",", ".")) < 100);
    if (mark === own && (decimal || unit !== "g" || !weighed || !tiny)) return [];
    return [{ heading, decimal, example }];
  });
  const first = found[0];
  if (first === undefined) return null;
  const alike = found.filter((f) => f.decimal === first.decimal).map((f) => f.heading);
  const means = first.decimal ? "decimal" : "thousands";
  return {
    step: { layout: "numbers", columns: alike, mark, means },
    why: notice("propose-foreign-marks", "info", {
      columns: alike,
      mark,
      means,
      example: first.example,
      read: first.example.replace(/[.,]/, first.decimal ? signs[own] : ""),
    }),
  };
}
