/** A piecewise cubic curve by its values and slopes at ascending knots. */
export interface CubicCurve {
  readonly knots: readonly number[];
  readonly values: readonly number[];
  readonly slopes: readonly number[];
}

export interface CurvePoint {
  readonly value: number;
  readonly slope: number;
  readonly bend: number;
}

/**
 * Value, slope and second derivative at x; straight beyond the first and last knot.
 *
 * @example curveAt(naturalSpline([0, 1, 2], [0, 1, 0]), 0.5).value // 0.6875
 */
export function curveAt(curve: CubicCurve, x: number): CurvePoint {
  const { knots, values, slopes } = curve;
  const last = knots.length - 1;
  if (x < knots[0]! || x > knots[last]!) {
    const end = x < knots[0]! ? 0 : last;
    const slope = slopes[end]!;
    return { value: values[end]! + slope * (x - knots[end]!), slope, bend: 0 };
  }
  let low = 0;
  let high = last;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if (knots[middle]! <= x) low = middle;
    else high = middle;
  }
  const h = knots[high]! - knots[low]!;
  const t = (x - knots[low]!) / h;
  const rise = (values[high]! - values[low]!) / h;
  const a = slopes[low]! - rise;
  const b = slopes[high]! - rise;
  // Hermite form: the chord and two corrections that vanish at both ends.
  return {
    value: values[low]! + h * t * (rise + (1 - t) * (a * (1 - t) - b * t)),
    slope: rise + a * (1 - t) * (1 - 3 * t) - b * t * (2 - 3 * t),
    bend: (a * (6 * t - 4) + b * (6 * t - 2)) / h,
  };
}
