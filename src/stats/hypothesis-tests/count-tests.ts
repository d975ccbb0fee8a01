import type { Interval } from "../../core/measured.js";
import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { betaQuantile } from "../distributions/beta.js";
import { binomialCumulative, binomialDensity } from "../distributions/binomial.js";
import { chiSquaredCumulative } from "../distributions/chi-squared.js";
import { normalQuantile } from "../distributions/normal.js";

export interface CountTest {
  readonly estimate: number;
  readonly p: number;
  readonly interval: Interval;
}

/**
 * Exact test that a proportion is `proportion`, from `successes` of `trials`; two-sided by
 * summing every outcome no likelier than the one seen. Interval: Clopper-Pearson.
 *
 * @example binomialTest(7, 20).estimate // 0.35
 */
export function binomialTest(
  successes: number,
  trials: number,
  proportion = 0.5,
  level = 0.95,
): CountTest {
  requireCounts("binomialTest", successes, trials);
  const seen = binomialDensity(successes, trials, proportion);
  const mean = trials * proportion;
  let p = 1;
  if (successes !== mean) {
    const side = successes < mean ? "lower" : "upper";
    p =
      side === "lower"
        ? binomialCumulative(successes, trials, proportion)
        : binomialCumulative(successes - 1, trials, proportion, "upper");
    for (let k = 0; k <= trials; k++) {
      const beyond = side === "lower" ? k > mean : k < mean;
      const chance = binomialDensity(k, trials, proportion);
      if (beyond && chance <= seen * (1 + 1e-7)) p += chance;
    }
  }
  return {
    estimate: successes / trials,
    p: Math.min(1, p),
    interval: exactProportionInterval(successes, trials, level),
  };
}

/**
 * Clopper-Pearson interval of a proportion.
 *
 * @example exactProportionInterval(2, 10).upper // 0.556095
 */
export function exactProportionInterval(successes: number, trials: number, level = 0.95): Interval {
  requireCounts("exactProportionInterval", successes, trials);
  const a = (1 - level) / 2;
  return {
    lower: successes === 0 ? 0 : betaQuantile(a, successes, trials - successes + 1),
    upper: successes === trials ? 1 : betaQuantile(a, successes + 1, trials - successes, "upper"),
    level,
  };
}

/**
 * Wilson's score interval of a proportion, better centred than the exact one for planning.
 *
 * @example wilsonInterval(2, 10).upper // 0.509838
 */
export function wilsonInterval(successes: number, trials: number, level = 0.95): Interval {
  requireCounts("wilsonInterval", successes, trials);
  const z2 = normalQuantile((1 + level) / 2) ** 2;
  const share = successes / trials;
  const centre = (share + z2 / (2 * trials)) / (1 + z2 / trials);
  const half =
    (Math.sqrt(z2) / (1 + z2 / trials)) *
    Math.sqrt((share * (1 - share)) / trials + z2 / (4 * trials * trials));
  return { lower: Math.max(0, centre - half), upper: Math.min(1, centre + half), level };
}

/**
 * Ratio of two rates from counts and exposures (times, areas): exact, conditional on the total.
 *
 * @example rateRatioTest([11, 15], [800, 1000]).estimate // 0.916667
 */
export function rateRatioTest(
  counts: readonly [number, number],
  exposures: readonly [number, number],
  ratio = 1,
  level = 0.95,
): CountTest {
  requireNumbers("rateRatioTest", "counts", counts, 2);
  requireNumbers("rateRatioTest", "exposures", exposures, 2);
  const total = counts[0] + counts[1];
  const weight = exposures[0] / exposures[1];
  const share = (weight * ratio) / (1 + weight * ratio);
  const { p, interval } = binomialTest(counts[0], total, share, level);
  const toRatio = (x: number) => (x >= 1 ? null : x / (1 - x) / weight);
  return {
    estimate: counts[0] / counts[1] / weight,
    p,
    interval: { lower: toRatio(interval.lower!), upper: toRatio(interval.upper!), level },
  };
}

export interface TwoProportionTest {
  /** First proportion minus second. */
  readonly difference: number;
  readonly chiSquared: number | null;
  readonly p: number | null;
  /** Normal interval of the difference, variances not pooled. */
  readonly interval: Interval;
}

/**
 * Compares two proportions by Pearson's chi-squared, with Yates's correction if asked.
 *
 * @example twoProportionTest([15, 25], [50, 50]).chiSquared // 4.16667
 */
export function twoProportionTest(
  successes: readonly [number, number],
  trials: readonly [number, number],
  options: { readonly continuity?: boolean; readonly level?: number } = {},
): TwoProportionTest {
  const { continuity = false, level = 0.95 } = options;
  requireNumbers("twoProportionTest", "successes", successes, 2);
  requireNumbers("twoProportionTest", "trials", trials, 2);
  requireCounts("twoProportionTest", successes[0], trials[0]);
  requireCounts("twoProportionTest", successes[1], trials[1]);
  const [a, b] = [successes[0] / trials[0], successes[1] / trials[1]];
  const n = trials[0] + trials[1];
  const pooled = (successes[0] + successes[1]) / n;
  const cross = Math.abs(
    successes[0] * (trials[1] - successes[1]) - successes[1] * (trials[0] - successes[0]),
  );
  const off = continuity ? Math.max(0, cross - n / 2) : cross;
  const expected = trials[0] * trials[1] * pooled * (1 - pooled) * n;
  const chiSquared = expected > 0 ? (off * off) / expected : null;
  const half =
    normalQuantile((1 + level) / 2) *
    Math.sqrt((a * (1 - a)) / trials[0] + (b * (1 - b)) / trials[1]);
  return {
    difference: a - b,
    chiSquared,
    p: chiSquared === null ? null : chiSquaredCumulative(chiSquared, 1, "upper"),
    interval: { lower: Math.max(-1, a - b - half), upper: Math.min(1, a - b + half), level },
  };
}

function requireCounts(where: string, successes: number, trials: number): void {
  if (Number.isInteger(successes) && Number.isInteger(trials) && successes >= 0) {
    if (trials >= successes && trials > 0) return;
  }
  throw new UsageError({
    needed: "whole counts with 0 <= successes <= trials and at least one trial",
    came: `${successes} of ${trials} came`,
    where,
    todo: "Count successes and trials over the same rows.",
  });
}
