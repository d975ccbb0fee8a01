import { type SlopeBasis, slopeBasis } from "../../stats/smoothing/smooth-slope-basis.js";
import {
  factorInPlace,
  type GroupSums,
  solveLowerInPlace,
  solveUpperInPlace,
} from "../../stats/state-space/group-fit.js";

/** Days of age between the knots of the group's mean gain. */
export const knotSpacing = 20;
const smoothness = { spacing: knotSpacing, changeSd: 0.003, slopeSd: 0.03 };

/** Where the mean gain of a group has its knots: `width` of them, from age `from` on. */
export interface MeanGainKnots {
  readonly from: number;
  readonly width: number;
  readonly basis: SlopeBasis;
}

/** Knots over the ages from `youngest` to `oldest`, at least two. */
export function meanGainKnots(youngest: number, oldest: number): MeanGainKnots {
  const from = Math.floor(youngest / knotSpacing) * knotSpacing;
  const width = Math.max(2, Math.ceil((oldest - from) / knotSpacing - 1e-9) + 1);
  return { from, width, basis: slopeBasis(from, from + (width - 1) * knotSpacing, smoothness) };
}

/** Gains at the knots with the factor of their precision. */
export interface MeanGainEstimate {
  readonly factor: Float64Array;
  readonly gains: Float64Array;
}

/**
 * Mean gains at the knots by generalised least squares: the sums of the whole
 * group under the smoothness of the curve, with `swap` exchanging one animal's
 * serving values for all of its own. Null when the sums decide nothing.
 */
export function estimateMeanGain(
  all: GroupSums,
  precision: Float64Array,
  swap: { readonly full: GroupSums; readonly serving: GroupSums } | null = null,
): MeanGainEstimate | null {
  const factor = new Float64Array(all.xx.length);
  for (let i = 0; i < factor.length; i++) factor[i] = all.xx[i]! + precision[i]!;
  const gains = Float64Array.from(all.xy);
  if (swap !== null) {
    const { full, serving } = swap;
    for (let i = 0; i < factor.length; i++) factor[i]! += full.xx[i]! - serving.xx[i]!;
    for (let i = 0; i < gains.length; i++) gains[i]! += full.xy[i]! - serving.xy[i]!;
  }
  const width = gains.length;
  if (!factorInPlace(factor, width)) return null;
  solveLowerInPlace(factor, width, gains);
  solveUpperInPlace(factor, width, gains);
  return { factor, gains };
}

/** How much of the gain at each knot makes the mean gain at an age (sum 1). */
export function meanGainWeights({ width, from }: MeanGainKnots, time: number): Float64Array {
  const weights = new Float64Array(width);
  const x = Math.min(width - 1, Math.max(0, (time - from) / knotSpacing));
  const k = Math.min(width - 2, Math.floor(x));
  weights[k] = 1 - (x - k);
  weights[k + 1] = x - k;
  return weights;
}

/** Mean relative gain per day at an age: linear between knots, constant beyond them. */
export function meanGainAt(gains: Float64Array, from: number, time: number): number {
  const x = (time - from) / knotSpacing;
  const last = gains.length - 1;
  if (x <= 0) return gains[0]!;
  if (x >= last) return gains[last]!;
  const k = Math.floor(x);
  return gains[k]! + (x - k) * (gains[k + 1]! - gains[k]!);
}
