import type { GroupParameters } from "../../stats/state-space/group.js";
import {
  type FitSeries,
  fitGroup,
  type GroupFit,
  type GroupPrior,
} from "../../stats/state-space/group-fit.js";
import type { MeanGainKnots } from "./mean-gain-curve.js";

const prior: GroupPrior = {
  logNoise: [Math.log(0.015), 0.7],
  logSlope: [Math.log(0.0015), 0.5],
  logWalk: [Math.log(0.0018), 0.6],
  logitShare: [-1, 1.2],
};

/** What is taken to hold of a group before anything can be estimated. */
export const startParameters: GroupParameters = {
  noiseSd: 0.015,
  persistentShare: 0.25,
  slopeSd: 0.0015,
  walkSd: 0.0018,
};

const fewestValues = 12;

/**
 * Estimates anew how much the animals of a group vary, from the parameters of
 * the last time on; null while the group has fewer than 12 values.
 */
export function refitGroup(
  group: readonly FitSeries[],
  { width, basis }: MeanGainKnots,
  before: GroupParameters,
): GroupFit | null {
  const ready = group.filter((w) => w.count >= 2);
  const values = ready.reduce((sum, w) => sum + w.count, 0);
  return values < fewestValues ? null : fitGroup(ready, width, basis.precision, prior, before, 10);
}
