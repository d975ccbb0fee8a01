/**
 * A curve through its slope: the slope is linear between knots and constant beyond
 * the outer ones, so the curve is a quadratic spline and its coefficients are the
 * slopes at the knots.
 */

/** Share of each knot's slope in the slope at `t` (sum 1), written to `out`. */
export function slopeWeightsAt(knots: ArrayLike<number>, t: number, out: Float64Array): void {
  const last = knots.length - 1;
  out.fill(0);
  if (t <= knots[0]!) out[0] = 1;
  else if (t >= knots[last]!) out[last] = 1;
  else {
    const k = intervalOf(knots, t);
    const x = (t - knots[k]!) / (knots[k + 1]! - knots[k]!);
    out[k] = 1 - x;
    out[k + 1] = x;
  }
}

/**
 * Slope at `t` of the curve with these slopes at the knots.
 *
 * @example slopeAt([0, 10], [0.01, 0.02], 5) // 0.015
 */
export function slopeAt(knots: ArrayLike<number>, slopes: ArrayLike<number>, t: number): number {
  const last = knots.length - 1;
  if (t <= knots[0]!) return slopes[0]!;
  if (t >= knots[last]!) return slopes[last]!;
  const k = intervalOf(knots, t);
  const x = (t - knots[k]!) / (knots[k + 1]! - knots[k]!);
  return slopes[k]! + x * (slopes[k + 1]! - slopes[k]!);
}

/** Integral of every knot's hat from the first knot to `t`, written to `out` from `offset` on. */
export function hatIntegralsAt(
  knots: ArrayLike<number>,
  t: number,
  out: Float64Array,
  offset: number,
): void {
  const last = knots.length - 1;
  for (let k = 0; k <= last; k++) {
    let sum = 0;
    if (k === 0) sum += Math.min(0, t - knots[0]!);
    else {
      const wide = knots[k]! - knots[k - 1]!;
      const x = Math.min(1, Math.max(0, (t - knots[k - 1]!) / wide));
      sum += wide * 0.5 * x * x;
    }
    if (k === last) sum += Math.max(0, t - knots[last]!);
    else {
      const wide = knots[k + 1]! - knots[k]!;
      const x = Math.min(1, Math.max(0, (t - knots[k]!) / wide));
      sum += wide * (x - 0.5 * x * x);
    }
    out[offset + k] = sum;
  }
}

/** Index of the knot at or before `t`, never the last one. */
export function intervalOf(knots: ArrayLike<number>, t: number): number {
  let k = 0;
  while (k + 2 < knots.length && knots[k + 1]! <= t) k++;
  return k;
}
