import type { TurnbullFit } from "./turnbull.js";

/**
 * The probability of a time later than `t`. How probability lies inside an
 * interval is not known, so within one there is a bound on each side.
 *
 * @example turnbullSurvival(turnbull([{ after: 0, by: 2 }]), 1) // { lower: 0, upper: 1 }
 */
export function turnbullSurvival(
  fit: Pick<TurnbullFit, "steps">,
  t: number,
): { readonly lower: number; readonly upper: number } {
  let surelyLater = 0;
  let maybeLater = 0;
  for (const s of fit.steps) {
    if (s.from >= t && !(s.from === s.to && s.from === t)) surelyLater += s.mass;
    if (s.to === null || s.to > t) maybeLater += s.mass;
  }
  return { lower: Math.min(1, surelyLater), upper: Math.min(1, maybeLater) };
}
