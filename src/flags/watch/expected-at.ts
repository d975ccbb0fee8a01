import { slopeBasisAt } from "../../stats/smoothing/smooth-slope-basis.js";
import { forecastSeries, type LinearForecast } from "../../stats/state-space/forecast.js";
import type { GroupParameters } from "../../stats/state-space/group.js";
import { solveLowerInPlace } from "../../stats/state-space/group-fit.js";
import { type MeanGainEstimate, type MeanGainKnots, meanGainWeights } from "./mean-gain-curve.js";
import type { RunningAnimal } from "./running-animal.js";
import type { Expected } from "./watched-day.js";

/** A weighing that the mean was estimated with and that is to be left out of it again. */
export interface LeftOutWeighing {
  /** Its filtered basis row, solved by the factor of the mean, and its filtered residual. */
  readonly solved: Float64Array;
  readonly residual: number;
  readonly leverage: number;
}

/**
 * What one animal is expected to weigh and to gain at an age, from its first
 * `count` weighings and from the group: mean and standard deviation of ln mass
 * of a weighing without known error, and of the relative gain per day. The
 * gain is the slope of the group's curve there plus the animal's own slope, with the error of
 * both; the random steps from one day to the next come on top of it.
 *
 * @param left Today's weighing, where the mean was estimated with it.
 */
export function expectedAt(
  w: RunningAnimal,
  count: number,
  time: number,
  knots: MeanGainKnots,
  mean: MeanGainEstimate,
  parameters: GroupParameters,
  left: LeftOutWeighing | null,
): Expected {
  const { value, slope } = forecastSeries(w, count, knots.width, parameters, time);
  const basis = new Float64Array(knots.width);
  slopeBasisAt(knots.basis, time, basis, 0);
  const mass = together(value, basis, mean, left);
  const gain = together(slope, meanGainWeights(knots, time), mean, left);
  return { logMass: mass.mean, sd: mass.sd, gain: { perDay: gain.mean, sd: gain.sd } };
}

/** Own part and mean in one: the error of the mean's coefficients, without the weighing left out. */
function together(
  own: LinearForecast,
  ofMean: Float64Array,
  { factor, gains }: MeanGainEstimate,
  left: LeftOutWeighing | null,
): { readonly mean: number; readonly sd: number } {
  const width = gains.length;
  const row = own.row.map((v, k) => v + ofMean[k]!);
  let mean = own.constant;
  for (let k = 0; k < width; k++) mean += row[k]! * gains[k]!;
  solveLowerInPlace(factor, width, row);
  let variance = own.variance;
  let shared = 0;
  for (let k = 0; k < width; k++) {
    variance += row[k]! * row[k]!;
    if (left !== null) shared += row[k]! * left.solved[k]!;
  }
  if (left !== null) {
    const rest = Math.max(1e-6, 1 - left.leverage);
    mean -= (shared * left.residual) / rest;
    variance += (shared * shared) / rest;
  }
  return { mean, sd: Math.sqrt(variance) };
}
