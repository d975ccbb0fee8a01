import { requireList } from "../core/require-numbers.js";
import { normalCumulative } from "../stats/distributions/normal.js";

/** How residuals follow one another in order of age. */
export interface ResidualPattern {
  /** Stretches of equal sign. */
  readonly runs: number;
  readonly above: number;
  readonly below: number;
  /** Chance of so few runs or fewer if signs fell at random; `null` with under 6 residuals. */
  readonly fewRuns: number | null;
  /**
   * Mean square of the step between neighbours over that of the residuals (von
   * Neumann's ratio, the Durbin-Watson statistic): 2 where neighbours are
   * unrelated, near 0 where they resemble each other.
   */
  readonly neighbourRatio: number | null;
  /** True when `fewRuns` is below 0.01: the curve misses a bend. */
  readonly bent: boolean;
}

/**
 * The pattern of residuals in order of age (standardised ones where weights
 * differ). Source: Wald and Wolfowitz, Ann Math Stat 11 (1940) 147-162, exact
 * distribution; Durbin and Watson, Biometrika 37 (1950) 409-428. With a fitted
 * curve neighbours are pushed apart a little, so the chance errs on the side of
 * silence.
 *
 * @example
 * residualPattern([1, 2, 1, -1, -2, -1]).runs // 2, and the chance of 2 or fewer is 0.1
 */
export function residualPattern(residuals: readonly number[]): ResidualPattern {
  requireList("residualPattern", "residuals", residuals);
  const signs = residuals.filter((each) => each !== 0).map((each) => each > 0);
  const above = signs.filter(Boolean).length;
  const below = signs.length - above;
  let runs = signs.length > 0 ? 1 : 0;
  for (let i = 1; i < signs.length; i++) if (signs[i] !== signs[i - 1]) runs++;
  let square = 0;
  let steps = 0;
  residuals.forEach((each, i) => {
    square += each * each;
    if (i > 0) steps += (each - residuals[i - 1]!) ** 2;
  });
  const n = residuals.length;
  const fewRuns =
    above > 0 && below > 0 && signs.length >= 6 ? chanceOfRuns(runs, above, below) : null;
  return {
    runs,
    above,
    below,
    fewRuns,
    neighbourRatio: n > 1 && square > 0 ? (steps / (n - 1)) * (n / square) : null,
    bent: fewRuns !== null && fewRuns < 0.01,
  };
}

/** P(runs <= r) when `a` signs of one kind and `b` of the other fall at random. */
function chanceOfRuns(r: number, a: number, b: number): number {
  const choose = (n: number, k: number): number => {
    if (k < 0 || k > n) return 0;
    let product = 1;
    for (let i = 1; i <= k; i++) product *= (n - k + i) / i;
    return product;
  };
  const all = choose(a + b, a);
  if (!Number.isFinite(all)) return normalChance(r, a, b);
  let sum = 0;
  for (let k = 2; k <= r; k++) {
    const half = k >> 1;
    sum +=
      k % 2 === 0
        ? 2 * choose(a - 1, half - 1) * choose(b - 1, half - 1)
        : choose(a - 1, half) * choose(b - 1, half - 1) +
          choose(a - 1, half - 1) * choose(b - 1, half);
  }
  return Math.min(1, sum / all);
}

/** For long series: the normal approximation with continuity correction. */
function normalChance(r: number, a: number, b: number): number {
  const n = a + b;
  const mean = 1 + (2 * a * b) / n;
  const variance = ((mean - 1) * (mean - 2)) / (n - 1);
  return normalCumulative((r + 0.5 - mean) / Math.sqrt(variance));
}
