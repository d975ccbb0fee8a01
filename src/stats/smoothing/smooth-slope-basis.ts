/**
 * A smooth curve through its slope: the slope is linear between knots, so the
 * curve is a quadratic spline, and a random walk of the slope over the knots
 * keeps it smooth. Beyond the outer knots the slope stays at its last value.
 */
export interface SlopeBasis {
  readonly knots: Float64Array;
  /** Precision matrix (row by row) of the slopes at the knots. */
  readonly precision: Float64Array;
}

export interface SlopeBasisOptions {
  /** Distance of the knots. */
  readonly spacing: number;
  /** Standard deviation of the change of slope from knot to knot. */
  readonly changeSd: number;
  /** Standard deviation of the slope itself (wide). */
  readonly slopeSd: number;
}

/**
 * Knots from `from` to at least `to`, and the precision of a random walk.
 *
 * @example slopeBasis(0, 60, { spacing: 20, changeSd: 0.003, slopeSd: 0.03 }).knots // 0 20 40 60
 */
export function slopeBasis(from: number, to: number, options: SlopeBasisOptions): SlopeBasis {
  const size = Math.max(2, Math.ceil((to - from) / options.spacing - 1e-9) + 1);
  const knots = Float64Array.from({ length: size }, (_, k) => from + k * options.spacing);
  const precision = new Float64Array(size * size);
  const step = 1 / options.changeSd ** 2;
  for (let k = 0; k + 1 < size; k++) {
    precision[k * size + k]! += step;
    precision[(k + 1) * size + k + 1]! += step;
    precision[k * size + k + 1]! -= step;
    precision[(k + 1) * size + k]! -= step;
  }
  for (let k = 0; k < size; k++) precision[k * size + k]! += 1 / (size * options.slopeSd ** 2);
  return { knots, precision };
}

/**
 * Values of every basis function of the curve at `t`, written to `out` from
 * `offset` on: the integral of the k-th hat of the slope from the first knot to t.
 */
export function slopeBasisAt(
  basis: SlopeBasis,
  t: number,
  out: Float64Array,
  offset: number,
): void {
  const { knots } = basis;
  const size = knots.length;
  const spacing = knots[1]! - knots[0]!;
  const x = (t - knots[0]!) / spacing;
  for (let k = 0; k < size; k++) {
    // Integral of the unit hat centred at k, cut at the first and last knot.
    const rising = k === 0 ? 0 : hatRise(x - (k - 1));
    const falling = k === size - 1 ? Math.max(0, x - k) : hatFall(x - k);
    const before = k === 0 ? Math.min(0, x) : 0;
    out[offset + k] = spacing * (rising + falling + before);
  }
}

/** Integral from 0 to x of a slope rising from 0 to 1 over [0, 1]. */
function hatRise(x: number): number {
  if (x <= 0) return 0;
  return x >= 1 ? 0.5 : 0.5 * x * x;
}

/** Integral from 0 to x of a slope falling from 1 to 0 over [0, 1]. */
function hatFall(x: number): number {
  if (x <= 0) return 0;
  return x >= 1 ? 0.5 : x - 0.5 * x * x;
}
