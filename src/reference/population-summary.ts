import type { PopulationSummary } from "../series/animal-series.js";
import type { SlopeMixture } from "../stats/state-space/slope-mixture.js";

export type { LogNormal, PopulationSummary, PriorFile } from "../series/animal-series.js";

/**
 * Sums up what a group has shown so far. The information is that of its own values
 * alone, averaged over the sets of parameters under `weights`: what was believed before is not
 * in it, so that nothing is counted twice when summaries are combined.
 *
 * @example summariseGroup(group, 12, vagueWeights).animals // 12
 */
export function summariseGroup(
  group: SlopeMixture,
  animals: number,
  weights: ArrayLike<number>,
): PopulationSummary {
  const { width, parameterShare } = group;
  const { parameters, knots } = group.prior;
  const information = new Array<number>(width * width).fill(0);
  const pulled = new Array<number>(width).fill(0);
  const moments = { noise: [0, 0], lasting: [0, 0], wander: [0, 0], spread: [0, 0] };
  const shares = parameters.map(
    (_, k) => (parameterShare[k]! * weights[k]!) / group.prior.weights[k]!,
  );
  const total = shares.reduce((sum, v) => sum + v, 0);
  parameters.forEach((p, k) => {
    const share = shares[k]! / total;
    if (share < 1e-6) return;
    for (let i = 0; i < width; i++)
      for (let j = 0; j < width; j++) {
        const at = i < j ? j * width + i : i * width + j;
        information[i * width + j]! += share * group.xx[k * width ** 2 + at]!;
      }
    for (let i = 0; i < width; i++) pulled[i]! += share * group.xy[k * width + i]!;
    const add = (sum: number[], x: number) => {
      sum[0]! += share * x;
      sum[1]! += share * x * x;
    };
    add(moments.noise, Math.log(p.noiseSd));
    add(moments.lasting, p.lastingShare);
    add(moments.wander, Math.log(p.wander));
    add(moments.spread, Math.log(p.spread));
  });
  const sd = ([mean, square]: number[]) => Math.sqrt(Math.max(0, square! - mean! * mean!));
  const logNormal = (sum: number[]) => ({ logMean: sum[0]!, logSd: sd(sum) });
  return {
    animals,
    seasons: 1,
    agesD: Array.from(knots),
    information,
    pulled,
    variation: {
      noise: logNormal(moments.noise),
      lasting: { mean: moments.lasting[0]!, sd: sd(moments.lasting) },
      wander: logNormal(moments.wander),
      spread: logNormal(moments.spread),
    },
  };
}
