import {
  fitLeastSquares,
  type LeastSquaresData,
  type LeastSquaresFit,
  type LeastSquaresModel,
  type LeastSquaresOptions,
} from "./fit-least-squares.js";

export interface ProfilePoint {
  readonly value: number;
  /** sign * sqrt((S(value) - S) / s^2), on the scale of Student's t. */
  readonly t: number;
}

export interface ProfileEnd {
  /** `null` when the sum of squares never rises enough: unbounded on this side. */
  readonly at: number | null;
  /** True when the end is the edge of the model's domain or a bound. */
  readonly atEdge: boolean;
}

export interface ProfileInterval {
  readonly lower: ProfileEnd;
  readonly upper: ProfileEnd;
  /** In order of value; a straight line means the Wald interval was right. */
  readonly trace: readonly ProfilePoint[];
  /** A lower sum of squares met on the way: the fit was no optimum. */
  readonly lowerRss: number | null;
}

/**
 * The likelihood interval of one parameter: the values at which the best fit
 * of all others is not worse than the data allow, |t| <= `cut`. `variance` is
 * the residual variance of the fit (1 where errors are known).
 *
 * Source: Bates and Watts, Nonlinear Regression Analysis (1988), section 6.1.
 */
export function profileInterval(
  model: LeastSquaresModel,
  data: LeastSquaresData,
  options: Omit<LeastSquaresOptions, "start">,
  fit: LeastSquaresFit,
  parameter: number,
  variance: number,
  cut: number,
): ProfileInterval {
  const p = model.parameters;
  const best = fit.theta[parameter]!;
  const unscaled = fit.unscaledCovariance;
  const ownVariance = unscaled === null ? 0 : unscaled[parameter * p + parameter]! * variance;
  const se = ownVariance > 0 ? Math.sqrt(ownVariance) : 0.1 * Math.abs(best) || 1;
  const fixed = Array.from({ length: p }, (_, j) => j === parameter || options.fixed?.[j] === true);
  const trace: ProfilePoint[] = [{ value: best, t: 0 }];
  let lowerRss: number | null = null;
  const limit = (side: number) =>
    side < 0 ? (options.lower?.[parameter] ?? -Infinity) : (options.upper?.[parameter] ?? Infinity);

  /** |t| with the parameter held at `value`; NaN outside the domain. */
  const rise = (value: number, from: readonly number[]): { t: number; theta: number[] } => {
    const start = from.slice();
    start[parameter] = value;
    let held = fitLeastSquares(model, data, { ...options, fixed, start, tolerance: 1e-7 });
    if (!held.converged) {
      const other = fit.theta.slice();
      other[parameter] = value;
      const again = fitLeastSquares(model, data, {
        ...options,
        fixed,
        start: other,
        damping: 0.01,
        tolerance: 1e-7,
      });
      if (again.rss < held.rss || !Number.isFinite(held.rss)) held = again;
    }
    if (!Number.isFinite(held.rss)) return { t: Number.NaN, theta: start };
    if (held.rss < fit.rss * (1 - 1e-8)) lowerRss = Math.min(lowerRss ?? Infinity, held.rss);
    return { t: Math.sqrt(Math.max(0, held.rss - fit.rss) / variance), theta: held.theta };
  };

  const walk = (side: -1 | 1): ProfileEnd => {
    let inner = best;
    let innerT = 0;
    let theta: number[] = fit.theta.slice();
    // The others move along with the parameter as the covariance says.
    const along = (to: number): number[] =>
      unscaled === null || !(ownVariance > 0)
        ? theta
        : theta.map(
            (each, j) =>
              each +
              (unscaled[parameter * p + j]! / unscaled[parameter * p + parameter]!) *
                (to - theta[parameter]!),
          );
    let step = cut * se;
    let outer: number | null = null;
    let outerT = 0;
    let edge: number | null = null;
    for (let i = 0; i < 60; i++) {
      let to = inner + side * step;
      const wall = limit(side);
      const hitsWall = side * (to - wall) >= 0;
      if (hitsWall) to = wall;
      if (!Number.isFinite(to)) return { at: null, atEdge: false };
      let found = rise(to, along(to));
      if (Number.isNaN(found.t)) found = rise(to, theta);
      if (Number.isNaN(found.t)) {
        // Outside the domain: halve back towards what still has a value.
        edge = to;
        step /= 4;
        if (step < 1e-6 * se) return { at: inner, atEdge: true };
        continue;
      }
      trace.push({ value: to, t: side * found.t });
      if (found.t >= cut) {
        outer = to;
        outerT = found.t;
        break;
      }
      if (hitsWall) return { at: wall, atEdge: true };
      // Hardly rising any more: it levels off below the cut.
      if (i > 12 && found.t - innerT < 1e-3 * cut) return { at: null, atEdge: false };
      inner = to;
      innerT = found.t;
      theta = found.theta;
      step =
        edge === null ? step * Math.min(3, Math.max(1.2, ((cut - innerT) / innerT) * 1.3)) : step;
      if (edge === null && innerT < 0.9 * cut) step = Math.max(step, 0.5 * Math.abs(inner - best));
    }
    if (outer === null) return { at: edge === null ? null : inner, atEdge: edge !== null };
    // Regula falsi with the Illinois rule on t, which is near a straight line.
    let lo = inner;
    let loT = innerT - cut;
    let hi = outer;
    let hiT = outerT - cut;
    let last = 0;
    for (let i = 0; i < 60; i++) {
      const to = (lo * hiT - hi * loT) / (hiT - loT);
      const found = rise(to, along(to));
      const off = found.t - cut;
      if (Number.isNaN(off)) return { at: lo, atEdge: true };
      if (Math.abs(off) < 1e-7 * cut || Math.abs(hi - lo) < 1e-10 * Math.abs(hi)) {
        trace.push({ value: to, t: side * found.t });
        return { at: to, atEdge: false };
      }
      if (off > 0) {
        hi = to;
        hiT = off;
        if (last === 1) loT /= 2;
        last = 1;
      } else {
        lo = to;
        loT = off;
        theta = found.theta;
        if (last === -1) hiT /= 2;
        last = -1;
      }
    }
    return { at: (lo + hi) / 2, atEdge: false };
  };

  const lower = walk(-1);
  const upper = walk(1);
  trace.sort((a, b) => a.value - b.value);
  return { lower, upper, trace, lowerRss };
}
