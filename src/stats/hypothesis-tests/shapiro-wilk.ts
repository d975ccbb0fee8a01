import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import { meanOf } from "../descriptive/describe.js";
import { normalCumulative, normalQuantile } from "../distributions/normal.js";

export interface ShapiroWilk {
  readonly w: number | null;
  readonly p: number | null;
}

/**
 * Shapiro-Wilk test of normality for 3 to 5000 finite values; `null` when nothing
 * varies. Source: P. Royston, Algorithm AS R94 (1995): W by approximate weights,
 * p by normalising log(1 - W).
 *
 * @throws UsageError for fewer than 3 or more than 5000 values, or one not finite.
 * @example shapiroWilkTest([2, 4, 4, 5, 6, 7, 9]).w // 0.981161
 */
export function shapiroWilkTest(values: ArrayLike<number>): ShapiroWilk {
  requireNumbers("shapiroWilkTest", "the values", values);
  const n = values.length;
  const x = Float64Array.from(values).sort();
  if (n < 3 || n > 5000) {
    throw new UsageError({
      needed: "3 to 5000 finite values",
      came: `${n} came`,
      where: "shapiroWilkTest",
      todo: "Leave missing values out; above 5000 values look at a quantile plot instead.",
    });
  }
  const mean = meanOf(x);
  const a = weights(n);
  let cross = 0;
  let squares = 0;
  for (let i = 0; i < n; i++) {
    cross += a[i]! * (x[i]! - mean);
    squares += (x[i]! - mean) ** 2;
  }
  if (!(squares > 0)) return { w: null, p: null };
  const w = Math.min(1, cross ** 2 / squares);
  if (n === 3) {
    const p = (6 / Math.PI) * (Math.asin(Math.sqrt(w)) - Math.asin(Math.sqrt(0.75)));
    return { w, p: Math.max(0, p) };
  }
  let y = Math.log1p(-w);
  let m: number;
  let s: number;
  if (n <= 11) {
    const gamma = polynomial([-2.273, 0.459], n);
    if (y >= gamma) return { w, p: 0 };
    y = -Math.log(gamma - y);
    m = polynomial([0.544, -0.39978, 0.025054, -6.714e-4], n);
    s = Math.exp(polynomial([1.3822, -0.77857, 0.062767, -0.0020322], n));
  } else {
    const log = Math.log(n);
    m = polynomial([-1.5861, -0.31082, -0.083751, 0.0038915], log);
    s = Math.exp(polynomial([-0.4803, -0.082676, 0.0030302], log));
  }
  return { w, p: normalCumulative((y - m) / s, "upper") };
}

/** Weights of the ordered values, of length 1 and sum 0. */
function weights(n: number): Float64Array {
  const out = new Float64Array(n);
  if (n === 3) {
    out[0] = -Math.SQRT1_2;
    out[2] = Math.SQRT1_2;
    return out;
  }
  const m = Float64Array.from({ length: n }, (_, i) => normalQuantile((i + 0.625) / (n + 0.25)));
  const sum = m.reduce((s, v) => s + v * v, 0);
  const root = 1 / Math.sqrt(n);
  const last =
    m[n - 1]! / Math.sqrt(sum) +
    polynomial([0, 0.221157, -0.147981, -2.07119, 4.434685, -2.706056], root);
  const next =
    m[n - 2]! / Math.sqrt(sum) +
    polynomial([0, 0.042981, -0.293762, -1.752461, 5.682633, -3.582633], root);
  const outer = n > 5 ? 2 : 1;
  const left = sum - 2 * m[n - 1]! ** 2 - (outer === 2 ? 2 * m[n - 2]! ** 2 : 0);
  const free = 1 - 2 * last ** 2 - (outer === 2 ? 2 * next ** 2 : 0);
  const scale = Math.sqrt(left / free);
  for (let i = 0; i < n; i++) out[i] = m[i]! / scale;
  out[n - 1] = last;
  out[0] = -last;
  if (outer === 2) {
    out[n - 2] = next;
    out[1] = -next;
  }
  return out;
}

function polynomial(c: readonly number[], x: number): number {
  return c.reduceRight((s, v) => s * x + v, 0);
}
