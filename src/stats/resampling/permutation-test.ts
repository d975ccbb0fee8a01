import type { LongWork } from "../../core/long-work.js";
import type { Alternative } from "../hypothesis-tests/alternative.js";
import { requireGroups } from "../hypothesis-tests/one-way-anova.js";
import { runResamples } from "./run-resamples.js";

export interface PermutationTest {
  readonly statistic: number;
  readonly p: number;
  /** All divisions were counted; otherwise they were drawn at random. */
  readonly exact: boolean;
  readonly divisions: number;
  /** Standard error of a drawn p. */
  readonly se: number | null;
}

export interface PermutationOptions extends LongWork {
  readonly resamples?: number;
  readonly alternative?: Alternative;
  /** What is compared; default the difference of means, first minus second. */
  readonly statistic?: (x: readonly number[], y: readonly number[]) => number;
}

/**
 * Permutation test of two lists: how often a division of all values at random is
 * at least as far out as the one seen. Every division is counted when there are no
 * more of them than `resamples` (default 10 000); otherwise p = (hits + 1) / (drawn
 * + 1), so p is never 0.
 *
 * @throws UsageError for an empty list; the signal's reason when cancelled.
 * @example (await permutationTest([1, 2], [3, 4])).p // 1/3
 */
export async function permutationTest(
  x: readonly number[],
  y: readonly number[],
  options: PermutationOptions = {},
): Promise<PermutationTest> {
  requireGroups("permutationTest", [x, y]);
  const { resamples = 10000, alternative = "two-sided", statistic = differenceOfMeans } = options;
  const seen = statistic(x, y);
  const all = [...x, ...y];
  const m = x.length;
  const slack = 1e-9 * (Math.abs(seen) + 1e-300);
  const hits = (value: number) =>
    alternative === "greater"
      ? value >= seen - slack
      : alternative === "less"
        ? value <= seen + slack
        : Math.abs(value) >= Math.abs(seen) - slack;
  let total = 1;
  for (let i = 1; i <= m && total <= 1e9; i++) total = (total * (all.length - m + i)) / i;
  if (Math.round(total) <= resamples) {
    let count = 0;
    let divisions = 0;
    for (const chosen of choices(all.length, m)) {
      divisions++;
      const inside = new Set(chosen);
      const value = statistic(
        chosen.map((i) => all[i]!),
        all.filter((_, i) => !inside.has(i)),
      );
      if (hits(value)) count++;
    }
    return { statistic: seen, p: count / divisions, exact: true, divisions, se: null };
  }
  const drawn = await runResamples(resamples, "permuting", options, (random) => {
    const mixed = random.shuffled(all);
    return hits(statistic(mixed.slice(0, m), mixed.slice(m)));
  });
  const p = (drawn.filter(Boolean).length + 1) / (resamples + 1);
  const se = Math.sqrt((p * (1 - p)) / resamples);
  return { statistic: seen, p, exact: false, divisions: resamples, se };
}

function differenceOfMeans(x: readonly number[], y: readonly number[]): number {
  const mean = (v: readonly number[]) => v.reduce((s, a) => s + a, 0) / v.length;
  return mean(x) - mean(y);
}

function* choices(n: number, m: number): Generator<number[]> {
  const at = Array.from({ length: m }, (_, i) => i);
  for (;;) {
    yield at.slice();
    let k = m - 1;
    while (k >= 0 && at[k] === n - m + k) k--;
    if (k < 0) return;
    at[k]!++;
    for (let j = k + 1; j < m; j++) at[j] = at[j - 1]! + 1;
  }
}
