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
 *
 * @example
 * const model = { parameters: 1, evaluate: (a, values, gradient) => (values.fill(a[0]), gradient.fill(1), true) };
 * const data = { y: [1, 2, 3, 4] };
 * const fit = fitLeastSquares(model, data, { start: [2] });
 * profileInterval(model, data, {}, fit, 0, fit.rss / 3, 2).upper.at // 3.79099
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
  const fixed = Array.from({ length: p }, (_, j) => j === parameter || options.fixed?.[j] === true);
  const profile: Profile = {
    model,
    data,
    options: { ...options, fixed },
    fit,
    parameter,
    variance,
    cut,
    se: ownVariance > 0 ? Math.sqrt(ownVariance) : 0.1 * Math.abs(best) || 1,
    covariance: ownVariance > 0 ? unscaled : null,
    trace: [{ value: best, t: 0 }],
    lowerRss: null,
  };
  const lower = profileEnd(profile, -1);
  const upper = profileEnd(profile, 1);
  profile.trace.sort((a, b) => a.value - b.value);
  return { lower, upper, trace: profile.trace, lowerRss: profile.lowerRss };
}

/** One parameter held at one value after another, the others at their best. */
interface Profile {
  readonly model: LeastSquaresModel;
  readonly data: LeastSquaresData;
  readonly options: Omit<LeastSquaresOptions, "start">;
  readonly fit: LeastSquaresFit;
  readonly parameter: number;
  readonly variance: number;
  readonly cut: number;
  readonly se: number;
  /** Unscaled covariance of the fit; `null` where it says nothing of this parameter. */
  readonly covariance: readonly number[] | null;
  readonly trace: ProfilePoint[];
  lowerRss: number | null;
}

/** |t| of one held value, NaN outside the domain, and where the others went. */
interface Held {
  readonly t: number;
  readonly theta: readonly number[];
}

/** Inside and outside of the limit, or the end where there is no outside. */
type Bracket =
  | { readonly end: ProfileEnd }
  | {
      readonly end: null;
      readonly inner: number;
      readonly innerT: number;
      readonly theta: readonly number[];
      readonly outer: number;
      readonly outerT: number;
    };

function profileEnd(profile: Profile, side: -1 | 1): ProfileEnd {
  const found = bracketLimit(profile, side);
  return found.end ?? closeIn(profile, side, found);
}

function holdAt(profile: Profile, value: number, from: readonly number[]): Held {
  const { model, data, options, fit, parameter, variance } = profile;
  const start = from.slice();
  start[parameter] = value;
  let held = fitLeastSquares(model, data, { ...options, start, tolerance: 1e-7 });
  if (!held.converged) {
    const other = fit.theta.slice();
    other[parameter] = value;
    const again = fitLeastSquares(model, data, {
      ...options,
      start: other,
      damping: 0.01,
      tolerance: 1e-7,
    });
    if (again.rss < held.rss || !Number.isFinite(held.rss)) held = again;
  }
  if (!Number.isFinite(held.rss)) return { t: Number.NaN, theta: start };
  if (held.rss < fit.rss * (1 - 1e-8)) {
    profile.lowerRss = Math.min(profile.lowerRss ?? Infinity, held.rss);
  }
  return { t: Math.sqrt(Math.max(0, held.rss - fit.rss) / variance), theta: held.theta };
}

/** The others moved along with the parameter as the covariance says. */
function along(
  { covariance, parameter }: Profile,
  theta: readonly number[],
  to: number,
): readonly number[] {
  if (covariance === null) return theta;
  const p = theta.length;
  return theta.map(
    (each, j) =>
      each +
      (covariance[parameter * p + j]! / covariance[parameter * p + parameter]!) *
        (to - theta[parameter]!),
  );
}

/** Walks outward until |t| passes the cut, a wall is met, or it levels off. */
function bracketLimit(profile: Profile, side: -1 | 1): Bracket {
  const { fit, parameter, cut, se, options, trace } = profile;
  const best = fit.theta[parameter]!;
  const bounds = side < 0 ? options.lower : options.upper;
  const wall = bounds?.[parameter] ?? side * Infinity;
  const ended = (at: number | null, atEdge: boolean): Bracket => ({ end: { at, atEdge } });
  let inner = best;
  let innerT = 0;
  let theta: readonly number[] = fit.theta;
  let step = cut * se;
  let leftDomain = false;
  for (let i = 0; i < 60; i++) {
    let to = inner + side * step;
    const hitsWall = side * (to - wall) >= 0;
    if (hitsWall) to = wall;
    if (!Number.isFinite(to)) return ended(null, false);
    let found = holdAt(profile, to, along(profile, theta, to));
    if (Number.isNaN(found.t)) found = holdAt(profile, to, theta);
    if (Number.isNaN(found.t)) {
      // Outside the domain: go back towards what still has a value.
      leftDomain = true;
      step /= 4;
      if (step < 1e-6 * se) return ended(inner, true);
      continue;
    }
    trace.push({ value: to, t: side * found.t });
    if (found.t >= cut) {
      return { end: null, inner, innerT, theta, outer: to, outerT: found.t };
    }
    if (hitsWall) return ended(wall, true);
    // Hardly rising any more: it levels off below the cut.
    if (i > 12 && found.t - innerT < 1e-3 * cut) return ended(null, false);
    inner = to;
    innerT = found.t;
    theta = found.theta;
    if (!leftDomain) {
      step *= Math.min(3, Math.max(1.2, ((cut - innerT) / innerT) * 1.3));
      if (innerT < 0.9 * cut) step = Math.max(step, 0.5 * Math.abs(inner - best));
    }
  }
  return ended(leftDomain ? inner : null, leftDomain);
}

/** Regula falsi with the Illinois rule on t, which is near a straight line. */
function closeIn(
  profile: Profile,
  side: -1 | 1,
  bracket: Extract<Bracket, { end: null }>,
): ProfileEnd {
  const { cut } = profile;
  let { theta } = bracket;
  let lo = bracket.inner;
  let loT = bracket.innerT - cut;
  let hi = bracket.outer;
  let hiT = bracket.outerT - cut;
  let last = 0;
  for (let i = 0; i < 60; i++) {
    const to = (lo * hiT - hi * loT) / (hiT - loT);
    const found = holdAt(profile, to, along(profile, theta, to));
    const off = found.t - cut;
    if (Number.isNaN(off)) return { at: lo, atEdge: true };
    if (Math.abs(off) < 1e-7 * cut || Math.abs(hi - lo) < 1e-10 * Math.abs(hi)) {
      profile.trace.push({ value: to, t: side * found.t });
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
}
