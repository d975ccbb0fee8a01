import { normalCumulative, normalDensity } from "../distributions/normal.js";

/**
 * The law of one standardised observation on a chart: a density, smooth between
 * `breaks`, and possibly point masses (values cut off at a limit pile up there).
 */
export interface IncrementLaw {
  readonly density: (x: number) => number;
  /** P(X <= x), point masses included. */
  readonly cumulative: (x: number) => number;
  /** Where the density jumps or has a kink. */
  readonly breaks?: readonly number[];
  readonly atoms?: readonly { readonly at: number; readonly mass: number }[];
}

/**
 * Normal observations with standard deviation 1 and the mean moved by `shift`.
 *
 * @example normalIncrement(1).cumulative(1) // 0.5
 */
export function normalIncrement(shift = 0): IncrementLaw {
  return {
    density: (x) => normalDensity(x - shift),
    cumulative: (x) => normalCumulative(x - shift),
  };
}

/**
 * The same with every observation cut off at -limit and limit before it enters the
 * chart, so that one wild value cannot raise an alarm alone.
 *
 * @example clippedNormalIncrement(2).cumulative(0) // 0.5
 */
export function clippedNormalIncrement(limit: number, shift = 0): IncrementLaw {
  return {
    density: (x) => (Math.abs(x) < limit ? normalDensity(x - shift) : 0),
    cumulative: (x) => (x < -limit ? 0 : x >= limit ? 1 : normalCumulative(x - shift)),
    breaks: [-limit, limit],
    atoms: [
      { at: -limit, mass: normalCumulative(-limit - shift) },
      { at: limit, mass: normalCumulative(limit - shift, "upper") },
    ],
  };
}
