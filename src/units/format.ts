import { plainWording, type Wording } from "../core/wording.js";
import { formatInstant, wordedDate } from "./format-date.js";
import { formatAmount, formatInterval, formatMeasured } from "./format-measured.js";
import { formatNumber } from "./format-number.js";

/**
 * Numbers and times for the eye. Output is the same on every computer: no
 * locale of the machine is asked, decimal points throughout, times in the
 * study's zone (marked as UTC where none is given), days as "2 May 2025" however
 * they are kept.
 */
export function screenWording(zone?: string): Wording {
  return {
    number: (value, digits = 4) => formatNumber(value, digits),
    amount: formatAmount,
    interval: (value, lower, upper, unit) =>
      formatMeasured({ value, unit, interval: { lower, upper, level: 0.95 } }),
    rounded: formatInterval,
    instant: (epochMs) =>
      zone === undefined ? `${formatInstant(epochMs, "UTC")} UTC` : formatInstant(epochMs, zone),
    text: wordedDate,
    list: (items) =>
      plainWording.list(
        items.map((i) => (typeof i === "number" ? formatNumber(i) : wordedDate(i))),
      ),
  };
}

// The formatter is one: numbers, intervals and dates have a file each, and this is where they are had.
export {
  formatDate,
  formatDays,
  formatInstant,
  formatTime,
  localText,
  wordedDate,
} from "./format-date.js";
export {
  formatAmount,
  formatInterval,
  formatMass,
  formatMeasured,
  formatPercent,
  unitWord,
} from "./format-measured.js";
export { count, formatFixed, formatNumber } from "./format-number.js";
