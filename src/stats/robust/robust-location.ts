import { listOf } from "../../core/require-numbers.js";
import { madToSd } from "../descriptive/mad-to-sd.js";
import { quantile } from "../descriptive/quantile.js";
import { normalCumulative, normalDensity } from "../distributions/normal.js";
import { finiteValues } from "../numeric/finite-values.js";

export interface RobustLocation {
  readonly location: number | null;
  readonly scale: number | null;
  readonly n: number;
  readonly iterations: number;
  readonly converged: boolean;
}

/**
 * Huber's M-estimate of the middle of the finite values: values beyond k robust
 * standard deviations are pulled in. Scale: 1.4826 MAD (`"mad"`, default), or
 * estimated together with the location (`"proposal-2"`). A scale of 0 (more than
 * half of the values equal) gives the median. Source: P. J. Huber (1981), ch. 6.
 *
 * @example huberLocation([1, 2, 3, 4, 100]).location // 3.055975
 */
export function huberLocation(
  values: Iterable<number | null | undefined>,
  options: { readonly k?: number; readonly scale?: "mad" | "proposal-2" } = {},
): RobustLocation {
  const { k = 1.5, scale: kind = "mad" } = options;
  const x = finiteValues(listOf("huberLocation", "the values", values));
  const n = x.length;
  const median = quantile(x, 0.5);
  if (median === null) return { location: null, scale: null, n, iterations: 0, converged: false };
  let location = median;
  let scale =
    madToSd *
    quantile(
      x.map((v) => Math.abs(v - median)),
      0.5,
    )!;
  if (!(scale > 0)) return { location, scale, n, iterations: 0, converged: true };
  const inside = 2 * normalCumulative(k) - 1;
  const beta = inside + k * k * (1 - inside) - 2 * k * normalDensity(k);
  for (let iterations = 1; iterations <= 500; iterations++) {
    const pulled = x.map((v) => Math.min(Math.max(v, location - k * scale), location + k * scale));
    const next = pulled.reduce((s, v) => s + v, 0) / n;
    const squares = pulled.reduce((s, v) => s + (v - next) ** 2, 0);
    const nextScale = kind === "mad" || n < 2 ? scale : Math.sqrt(squares / (n - 1) / beta);
    const settled =
      Math.abs(next - location) < 1e-13 * scale && Math.abs(nextScale - scale) < 1e-13 * scale;
    location = next;
    scale = nextScale;
    if (settled) return { location, scale, n, iterations, converged: true };
  }
  return { location, scale, n, iterations: 500, converged: false };
}
