import { requireList } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import type { CubicCurve } from "./cubic-curve.js";

/**
 * The natural cubic spline through points with ascending x: the smoothest curve
 * through them, but it can swing beyond them.
 *
 * @throws UsageError for fewer than two points or x not ascending.
 * @example curveAt(naturalSpline([0, 1, 2], [0, 1, 0]), 1).bend // -3
 */
export function naturalSpline(x: ArrayLike<number>, y: ArrayLike<number>): CubicCurve {
  requireAscending("naturalSpline", x, y);
  const n = x.length;
  const h = Array.from({ length: n - 1 }, (_, i) => x[i + 1]! - x[i]!);
  const rise = h.map((w, i) => (y[i + 1]! - y[i]!) / w);
  // Second derivatives from the tridiagonal system, 0 at both ends.
  const bend = new Array<number>(n).fill(0);
  const diagonal: number[] = [];
  const right: number[] = [];
  for (let i = 1; i < n - 1; i++) {
    const share = i > 1 ? h[i - 1]! / diagonal[i - 2]! : 0;
    diagonal.push(2 * (h[i - 1]! + h[i]!) - (i > 1 ? share * h[i - 1]! : 0));
    right.push(6 * (rise[i]! - rise[i - 1]!) - (i > 1 ? share * right[i - 2]! : 0));
  }
  for (let i = n - 2; i >= 1; i--) {
    bend[i] = (right[i - 1]! - h[i]! * bend[i + 1]!) / diagonal[i - 1]!;
  }
  return { knots: Array.from(x), values: Array.from(y), slopes: slopesFromBends(h, rise, bend) };
}

/** Slopes at the knots of a cubic spline with given second derivatives. */
export function slopesFromBends(
  h: readonly number[],
  rise: readonly number[],
  bend: ArrayLike<number>,
): number[] {
  const n = h.length + 1;
  return Array.from({ length: n }, (_, i) =>
    i < n - 1
      ? rise[i]! - (h[i]! * (2 * bend[i]! + bend[i + 1]!)) / 6
      : rise[i - 1]! + (h[i - 1]! * (2 * bend[i]! + bend[i - 1]!)) / 6,
  );
}

/**
 * A cubic curve through points with ascending x that rises and falls only where the
 * points do. Source: F. N. Fritsch and R. E. Carlson (1980).
 *
 * @throws UsageError for fewer than two points or x not ascending.
 * @example curveAt(monotoneInterpolation([0, 1, 2], [0, 1, 1]), 1.5).value // 1
 */
export function monotoneInterpolation(x: ArrayLike<number>, y: ArrayLike<number>): CubicCurve {
  requireAscending("monotoneInterpolation", x, y);
  const n = x.length;
  const rise = Array.from({ length: n - 1 }, (_, i) => (y[i + 1]! - y[i]!) / (x[i + 1]! - x[i]!));
  const slopes = Array.from({ length: n }, (_, i) =>
    i === 0
      ? rise[0]!
      : i === n - 1
        ? rise[n - 2]!
        : rise[i - 1]! * rise[i]! <= 0
          ? 0
          : (rise[i - 1]! + rise[i]!) / 2,
  );
  for (let i = 0; i < n - 1; i++) {
    if (rise[i] === 0) {
      slopes[i] = 0;
      slopes[i + 1] = 0;
      continue;
    }
    const a = slopes[i]! / rise[i]!;
    const b = slopes[i + 1]! / rise[i]!;
    const over = 2 * a + b - 3;
    const under = a + 2 * b - 3;
    if (over > 0 && under > 0 && a * (over + under) < over * over) {
      const t = (3 * rise[i]!) / Math.hypot(a, b);
      slopes[i] = t * a;
      slopes[i + 1] = t * b;
    }
  }
  return { knots: Array.from(x), values: Array.from(y), slopes };
}

function requireAscending(where: string, x: ArrayLike<number>, y: ArrayLike<number>): void {
  requireList(where, "x", x);
  requireList(where, "y", y);
  let fits = x.length >= 2 && y.length === x.length;
  for (let i = 0; i < x.length && fits; i++) {
    fits = Number.isFinite(x[i]!) && Number.isFinite(y[i]!) && (i === 0 || x[i]! > x[i - 1]!);
  }
  if (fits) return;
  throw new UsageError({
    needed: "at least two points with finite, strictly ascending x",
    came: `${x.length} x and ${y.length} y came`,
    where,
    todo: "Sort the points and average those with the same x.",
  });
}
