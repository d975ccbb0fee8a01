import type { LongWork } from "../../core/long-work.js";
import type { Interval } from "../../core/measured.js";
import { requireNumber } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { meanOf } from "../descriptive/describe.js";
import { quantiles } from "../descriptive/quantile.js";
import { normalCumulative, normalQuantile } from "../distributions/normal.js";
import { runResamples } from "./run-resamples.js";

export interface BootstrapOptions extends LongWork {
  readonly resamples?: number;
  readonly level?: number;
  /** `"bca"` (default) corrects bias and skewness; `"percentile"` does not; `"basic"` mirrors. */
  readonly kind?: "bca" | "percentile" | "basic";
  /** Rows are drawn within each of these groups. */
  readonly strata?: readonly string[];
}

export interface Bootstrap {
  readonly estimate: number | null;
  readonly se: number | null;
  readonly bias: number | null;
  readonly interval: Interval | null;
  readonly kind: "bca" | "percentile" | "basic";
  /** Resamples asked for, and those whose statistic could be computed. */
  readonly asked: number;
  readonly usable: number;
  readonly seed: number;
}

/**
 * Bootstrap interval of a statistic of `n` rows. `statistic` gets the row numbers
 * of a resample and gives a number, or `null` where it cannot be computed (those
 * resamples are counted, never hidden). Source: Efron and Tibshirani (1993), 13-14.
 *
 * @throws UsageError for fewer than two rows; the signal's reason when cancelled.
 * @example await bootstrap(x.length, (rows) => mean(rows.map((i) => x[i]!)), { seed: 7 })
 */
export async function bootstrap(
  n: number,
  statistic: (rows: readonly number[]) => number | null,
  options: BootstrapOptions = {},
): Promise<Bootstrap> {
  const { resamples = 2000, level = 0.95, kind = "bca", strata, seed = 1 } = options;
  requireNumber("bootstrap", "the count of rows", n);
  if (!(n >= 2) || !(resamples >= 20) || (strata !== undefined && strata.length !== n)) {
    throw new UsageError({
      needed: "at least 2 rows, 20 resamples and one stratum per row",
      came: `${n} rows, ${resamples} resamples, ${strata?.length ?? "no"} strata`,
      where: "bootstrap",
      todo: "Use 2000 resamples or more for an interval.",
    });
  }
  const all = Array.from({ length: n }, (_, i) => i);
  const layers =
    strata === undefined
      ? [all]
      : [...new Set(strata)].map((s) => all.filter((i) => strata[i] === s));
  const usableValue = (v: number | null) => (v !== null && Number.isFinite(v) ? v : null);
  const estimate = usableValue(statistic(all));
  const drawn = await runResamples(resamples, "resampling", { ...options, seed }, (random) =>
    usableValue(
      statistic(layers.flatMap((rows) => rows.map(() => rows[random.below(rows.length)]!))),
    ),
  );
  const values = drawn.filter((v): v is number => v !== null);
  const result = { kind, asked: resamples, usable: values.length, seed };
  if (estimate === null || values.length < 20) {
    return { estimate, se: null, bias: null, interval: null, ...result };
  }
  const mean = meanOf(values);
  const se = Math.sqrt(values.reduce((s, v) => s + (v - mean) ** 2, 0) / (values.length - 1));
  const tail = (1 - level) / 2;
  let shares: [number, number] = [tail, 1 - tail];
  if (kind === "bca") {
    // Leaving out one row at a time, for the skewness of the statistic.
    const left = all.map((i) => usableValue(statistic(all.filter((j) => j !== i))));
    const acceleration = accelerationOf(left.filter((v): v is number => v !== null));
    shares = bcaShares(values, estimate, acceleration, tail);
  }
  const [low, high] = quantiles(values, shares, 6);
  const interval =
    kind === "basic"
      ? { lower: 2 * estimate - high!, upper: 2 * estimate - low!, level }
      : { lower: low!, upper: high!, level };
  return { estimate, se, bias: mean - estimate, interval, ...result };
}

/** Efron's acceleration from jackknife values. */
export function accelerationOf(jackknife: readonly number[]): number {
  if (jackknife.length < 2) return 0;
  const mean = meanOf(jackknife);
  let cubes = 0;
  let squares = 0;
  for (const v of jackknife) {
    cubes += (mean - v) ** 3;
    squares += (mean - v) ** 2;
  }
  return squares > 0 ? cubes / (6 * squares ** 1.5) : 0;
}

function bcaShares(
  values: readonly number[],
  estimate: number,
  acceleration: number,
  tail: number,
): [number, number] {
  let below = 0;
  for (const v of values) below += v < estimate ? 1 : v === estimate ? 0.5 : 0;
  const share = Math.min(
    1 - 0.5 / values.length,
    Math.max(0.5 / values.length, below / values.length),
  );
  const centre = normalQuantile(share);
  const adjusted = (p: number) => {
    const z = centre + normalQuantile(p);
    return normalCumulative(centre + z / (1 - acceleration * z));
  };
  return [adjusted(tail), adjusted(1 - tail)];
}
