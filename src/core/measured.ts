import type { Notice } from "./notice.js";

/**
 * A number that leaves the library: value, unit and, where it exists, its
 * standard error or interval. `value` is `null` when it is not defined, and
 * `why` then says why. Never `NaN`.
 */
export interface Measured {
  readonly value: number | null;
  readonly unit: string;
  readonly se?: number;
  readonly interval?: Interval;
  /** Of a mean: the standard deviation of what it is the mean of; null below two values. */
  readonly sd?: number | null;
  /** How many observations stand behind it. */
  readonly n?: number;
  readonly why?: Notice;
}

/** `null` at an end means unbounded on that side. */
export interface Interval {
  readonly lower: number | null;
  readonly upper: number | null;
  /** Coverage aimed at, e.g. 0.95. */
  readonly level: number;
}

/** Of a normal law 95 % lie within so many standard deviations: to two digits, as tables and textbooks give it. */
export const normal95 = 1.96;

/** The 95 % interval of an estimate with a normal error. @example normalInterval(10, 1) // { lower: 8.04, upper: 11.96, level: 0.95 } */
export function normalInterval(value: number, se: number): Interval {
  return { lower: value - normal95 * se, upper: value + normal95 * se, level: 0.95 };
}

/** Makes a measured number. @example measured(61.2, "g/d", { se: 3.1, n: 8 }) */
export function measured(
  value: number,
  unit: string,
  more: { readonly se?: number; readonly interval?: Interval; readonly n?: number } = {},
): Measured {
  return { value, unit, ...more };
}

/**
 * An estimate with a normal error about a range that holds for certain, `half` wide to either
 * side: its 95 % interval holds both ends of the range. Without an error, no interval.
 *
 * @example measuredAbout(100, "g", 10, { half: 5 }).interval // { lower: 75.4, upper: 124.6, level: 0.95 }
 */
export function measuredAbout(
  value: number,
  unit: string,
  se: number,
  { n, half = 0 }: { readonly n?: number; readonly half?: number } = {},
): Measured {
  const counted = n === undefined ? {} : { n };
  if (!Number.isFinite(se)) return measured(value, unit, counted);
  const { lower, upper, level } = normalInterval(value, se);
  const interval = { lower: lower! - half, upper: upper! + half, level };
  return measured(value, unit, { se, ...counted, interval });
}

/** Makes a number that could not be computed, with the reason. */
export function notDefined(unit: string, why: Notice): Measured {
  return { value: null, unit, why };
}
