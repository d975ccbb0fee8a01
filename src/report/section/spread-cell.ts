import type { Measured } from "../../core/measured.js";
import type { Spread } from "../../seasons/spread.js";
import { formatMeasured } from "../../units/format-measured.js";

/**
 * A mean with its standard deviation and n as one cell: "61 (SD 12, n 7)" for
 * the eye, columns of their own in sheets.
 */
export function spreadCell(s: Spread, unit = s.unit): Measured {
  return { value: s.mean, unit, sd: s.sd, n: s.n };
}

/** The same in a sentence, without its unit. */
export function spreadText(s: Spread): string {
  return formatMeasured(spreadCell(s), 3, { unit: false });
}
