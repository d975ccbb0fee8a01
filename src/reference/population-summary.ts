import type { SlopeMixture } from "../stats/state-space/slope-mixture.js";

/**
 * What a group of hand-reared young says about gain, as plain numbers: no rows, no
 * names, no dates. Earlier seasons of a house and files of other nurseries are the
 * same kind of thing.
 */
export interface PopulationSummary {
  readonly animals: number;
  readonly seasons: number;
  /** Ages in days at which the mean relative gain per day is described. */
  readonly agesD: readonly number[];
  /** Information (inverse variance) on the mean gains at those ages, row by row, per (1/d)^2. */
  readonly information: readonly number[];
  /** Information times gain: what is added up when summaries are combined. */
  readonly pulled: readonly number[];
  readonly variation: Variation;
}

/** A quantity that varies, as mean and standard deviation of its logarithm. */
export interface LogNormal {
  readonly logMean: number;
  readonly logSd: number;
}

/** How much weighings and gains vary within the group. */
export interface Variation {
  /** Standard deviation of ln mass of one weighing. */
  readonly noise: LogNormal;
  /** Share of its variance that lasts to the next day (gut fill): mean and standard deviation. */
  readonly lasting: { readonly mean: number; readonly sd: number };
  /** Gain that wanders within an animal, and gain that differs between animals, as shares of gain. */
  readonly wander: LogNormal;
  readonly spread: LogNormal;
}

/**
 * Sums up what a group has shown so far. The information is that of its own values
 * alone, averaged over the sets of parameters: what was believed before is not in it,
 * so that nothing is counted twice when summaries are combined.
 *
 * @example summariseGroup(group, 12).animals // 12
 */
export function summariseGroup(group: SlopeMixture, animals: number): PopulationSummary {
  const { width, parameterShare } = group;
  const { parameters, knots } = group.prior;
  const information = new Array<number>(width * width).fill(0);
  const pulled = new Array<number>(width).fill(0);
  const moments = { noise: [0, 0], lasting: [0, 0], wander: [0, 0], spread: [0, 0] };
  parameters.forEach((p, k) => {
    const share = parameterShare[k]!;
    if (share < 1e-6) return;
    for (let i = 0; i < width * width; i++) information[i]! += share * group.xx[k * width ** 2 + i]!;
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
