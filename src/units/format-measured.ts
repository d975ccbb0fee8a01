import { type Measured, normalInterval } from "../core/measured.js";
import { formatFixed, formatNumber, formatToPlace } from "./format-number.js";

/**
 * What a computed figure is never written finer than, as the power of ten of
 * its last digit, by unit. Units that are not here follow their interval alone.
 */
const finest: Readonly<Record<string, number>> = {
  g: 0,
  mL: 0,
  kcal: 0,
  "g/d": 0,
  "kcal/d": 0,
  "%": 0,
  "%/d": -1,
  "°C": -1,
};

/** A unit as it is printed. @example unitWord("degC") // "°C" */
export function unitWord(unit: string): string {
  return unit === "degC" ? "°C" : unit === "degF" ? "°F" : unit;
}

/**
 * A measured number with its unit and its interval; a dash where it is not
 * defined (its `why` is a sentence of its own). Two significant digits of the
 * interval's half width decide the rounding of all three. The level is written
 * only where it is not 95 %. A mean with a standard deviation has that and its n
 * instead. Where a standard error alone is known, the
 * interval is 1.96 of them to either side.
 *
 * @example formatMeasured({ value: 61.234, unit: "g/d", se: 3.12 }) // "61 g/d (55 to 67)"
 */
export function formatMeasured(
  m: Measured,
  digits = 3,
  show: { readonly unit?: boolean } = {},
): string {
  if (m.value === null) return "–";
  const unit = unitWord(m.unit);
  if (m.sd !== undefined) {
    const text = formatInterval(m.value, null, m.sd === null ? null : m.value + m.sd, unit, digits);
    const sd = m.sd === null ? "" : `SD ${formatInterval(m.sd, null, 2 * m.sd, unit).value}`;
    const n = m.n === undefined ? "" : `n ${m.n}`;
    return `${withUnit(text.value, show.unit === false ? "" : unit)} (${[sd, n].filter((part) => part !== "").join(", ")})`;
  }
  const interval = m.interval ?? (m.se === undefined ? null : normalInterval(m.value, m.se));
  if (interval === null)
    return formatAmount(m.value, show.unit === false ? "" : unit, digits, unit);
  const text = formatInterval(m.value, interval.lower, interval.upper, unit, digits);
  const level =
    Math.abs(interval.level - 0.95) < 1e-9 ? "" : `${formatNumber(100 * interval.level, 3)} %: `;
  return `${withUnit(text.value, show.unit === false ? "" : unit)} (${level}${text.range})`;
}

/**
 * A value and its interval in words, rounded alike.
 *
 * @example formatInterval(487, 372, 602, "g") // { value: "490", range: "370 to 600" }
 */
export function formatInterval(
  value: number,
  lower: number | null,
  upper: number | null,
  unit: string,
  digits = 3,
): { readonly value: string; readonly range: string } {
  const half =
    lower !== null && upper !== null
      ? (upper - lower) / 2
      : lower !== null
        ? value - lower
        : upper !== null
          ? upper - value
          : 0;
  const place = half > 0 ? placeOf(half) - 1 : placeOf(value) - digits + 1;
  const write = (x: number) => formatToPlace(x, Math.max(place, finest[unit] ?? -12));
  const range =
    lower === null && upper === null
      ? "no limits"
      : lower === null
        ? `${write(upper!)} or less`
        : upper === null
          ? `${write(lower)} or more`
          : `${write(lower)} to ${write(upper)}`;
  return { value: write(value), range };
}

/**
 * A computed figure without an interval, not finer than its unit allows.
 *
 * @example formatAmount(61.24, "g/d") // "61 g/d"
 */
export function formatAmount(value: number, unit: string, digits = 3, of = unit): string {
  const least = finest[of];
  const place = value === 0 ? 0 : placeOf(value) - digits + 1;
  return withUnit(
    least !== undefined && place < least && Math.abs(value) < 1e15
      ? formatFixed(value, -least).replace(/\.0+$/, "")
      : formatNumber(value, digits),
    unit,
  );
}

/** A mass in whole grams. @example formatMass(10435.4) // "10\u202f435 g" */
export function formatMass(g: number): string {
  return `${formatFixed(g, 0)} g`;
}

/** Per cent, from per cent. @example formatPercent(12.345) // "12 %" */
export function formatPercent(percent: number): string {
  return formatAmount(percent, "%");
}

/** What is counted in ones (the shape of a curve) has no unit to print. */
const withUnit = (number: string, unit: string) =>
  unit === "" || unit === "1" ? number : `${number} ${unit}`;

/** The power of ten of the first digit. */
const placeOf = (x: number) => (x === 0 ? 0 : Math.floor(Math.log10(Math.abs(x)) + 1e-12));
