import { UsageError } from "../core/usage-error.js";

/**
 * Whole grams in proportion to shares, so that the sum is exact: each share is
 * cut to whole grams, and the grams left over go to the largest remainders, one
 * each, ties to the earliest (largest remainder method, Hamilton 1792).
 *
 * @param totalG whole grams to hand out, 0 or more.
 * @param shares 0 or more each; not all zero unless `totalG` is 0.
 * @throws UsageError when the total is not whole or a share is not a number >= 0.
 * @example apportionGrams(100, [1, 1, 1]) // [34, 33, 33]
 */
export function apportionGrams(totalG: number, shares: readonly number[]): number[] {
  const sum = shares.reduce((a, b) => a + b, 0);
  const bad = shares.find((s) => !(s >= 0 && Number.isFinite(s)));
  if (
    !Number.isSafeInteger(totalG) ||
    totalG < 0 ||
    bad !== undefined ||
    (totalG > 0 && !(sum > 0))
  ) {
    throw new UsageError({
      needed: "whole grams and shares of zero or more, not all zero",
      came: `${totalG} g and shares ${shares.join(", ") || "(none)"} came`,
      where: "apportionGrams",
      todo: "Round the total first and give one share per feed.",
    });
  }
  if (totalG === 0) return shares.map(() => 0);
  const exact = shares.map((s) => (totalG * s) / sum);
  const grams = exact.map(Math.floor);
  let left = totalG - grams.reduce((a, b) => a + b, 0);
  const order = exact
    .map((x, i) => ({ i, rest: x - Math.floor(x) }))
    .sort((a, b) => b.rest - a.rest || a.i - b.i);
  for (const { i } of order) {
    if (left <= 0) break;
    grams[i]! += 1;
    left--;
  }
  return grams;
}
