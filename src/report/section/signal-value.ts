import type { Measured } from "../../core/measured.js";
import { formatMeasured } from "../../units/format-measured.js";
import { type Cell, isMeasured, type Table } from "./section.js";
import { withTidy } from "./tidy-table.js";

/** Units that say how far off something is: no finer than two digits, whatever is known of it. */
const howFar: ReadonlySet<string> = new Set(["z", "evidence", "standard errors", "h"]);

/**
 * The value of a signal for the eye. What was seen so many times is told by its
 * sentence, which counts what was seen and not the lines about it.
 *
 * @example signalValue({ value: 8.231, unit: "evidence" }) // "8.2 evidence"
 * @example signalValue({ value: 1, unit: "count" }) // null
 */
export function signalValue(value: Measured): Cell {
  if (value.unit === "count") return null;
  if (!howFar.has(value.unit) || value.value === null) return value;
  const { value: number, unit } = value;
  return formatMeasured({ value: number, unit }, 2);
}

/** A table of signals with its values for the eye; files keep every digit. */
export function withSignalValues(signals: Table): Table {
  const rows = signals.rows.map((row) =>
    row.map((cell) => (isMeasured(cell) ? signalValue(cell) : cell)),
  );
  return withTidy({ ...signals, rows }, signals.columns, signals.rows);
}
