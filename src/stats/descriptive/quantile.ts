import { listOf, requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { finiteValues } from "../numeric/finite-values.js";

/** The nine sample quantiles of Hyndman and Fan; 7 is the usual default, 6 and 8 suit small samples. */
export type QuantileType = 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9;

/**
 * Sample quantile of the finite values (others are left out); `null` when there
 * is none. Definition: R. J. Hyndman and Y. Fan, Sample quantiles in statistical
 * packages (1996).
 *
 * @throws UsageError when p is outside 0 to 1.
 * @example quantile([1, 2, 3, 4], 0.5) // 2.5
 */
export function quantile(
  values: Iterable<number | null | undefined>,
  p: number,
  type: QuantileType = 7,
): number | null {
  return quantiles(values, [p], type)[0]!;
}

/**
 * Several quantiles of the same values at the cost of one sorting.
 *
 * @example quantiles([1, 2, 3, 4], [0.25, 0.75])[1] // 3.25
 */
export function quantiles(
  values: Iterable<number | null | undefined>,
  shares: readonly number[],
  type: QuantileType = 7,
): (number | null)[] {
  const all = listOf("quantile", "the values", values);
  requireNumbers("quantile", "the shares", shares);
  const sorted = Float64Array.from(finiteValues(all)).sort();
  return shares.map((p) => {
    if (!(p >= 0 && p <= 1)) {
      throw new UsageError({
        needed: "a share between 0 and 1",
        came: `${p} came`,
        where: "quantile",
        todo: "Give 0.9 for the 90th percentile.",
      });
    }
    return sorted.length === 0 ? null : quantileSorted(sorted, p, type);
  });
}

function quantileSorted(x: Float64Array, p: number, type: QuantileType): number {
  const n = x.length;
  const at = (k: number) => x[Math.min(n, Math.max(1, k)) - 1]!;
  if (type <= 3) {
    const position = type === 3 ? n * p - 0.5 : n * p;
    // A position that is a rounding error below a whole number is that number.
    const j = Math.floor(position + 4 * Number.EPSILON * n);
    const onStep = Math.abs(position - j) <= 4 * Number.EPSILON * n;
    if (type === 1) return at(onStep ? j : j + 1);
    if (type === 2) return onStep ? (at(j) + at(j + 1)) / 2 : at(j + 1);
    return at(onStep && j % 2 === 0 ? j : j + 1);
  }
  const [a, b] = plotting[type]!;
  const position = a + p * (n + 1 - a - b);
  const slack = 4 * Number.EPSILON;
  const j = Math.floor(position + slack);
  const share = position - j;
  if (Math.abs(share) < slack) return at(j);
  const low = at(j);
  const high = at(j + 1);
  return low === high ? low : low + share * (high - low);
}

/** The plotting position constants a and b of the interpolating types. */
const plotting: Partial<Record<QuantileType, readonly [number, number]>> = {
  4: [0, 1],
  5: [0.5, 0.5],
  6: [0, 0],
  7: [1, 1],
  8: [1 / 3, 1 / 3],
  9: [3 / 8, 3 / 8],
};
