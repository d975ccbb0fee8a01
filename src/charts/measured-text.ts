import { formatAmount, formatMeasured } from "../units/format-measured.js";

/**
 * A plotted value with the ends of its interval, where it has them, in the one
 * style of the pages.
 *
 * @example measuredText(17.2, 12.7, 21.7, "g/d") // "17 g/d (13 to 22)"
 */
export function measuredText(
  value: number,
  lower: number | null,
  upper: number | null,
  unit: string,
): string {
  return lower === null || upper === null
    ? formatAmount(value, unit)
    : formatMeasured({ value, unit, interval: { lower, upper, level: 0.95 } });
}
