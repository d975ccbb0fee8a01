import {
  fitLeastSquares,
  type LeastSquaresFit,
  type LeastSquaresModel,
} from "../stats/least-squares/fit-least-squares.js";
import { backSubstitute, triangularise } from "../stats/least-squares/kernels.js";
import { plainArray } from "../stats/least-squares/plain-array.js";
import { fitLeastSquaresRestarted, type RestartedFit } from "../stats/least-squares/restarts.js";
import type { GrowthCurve, StartSeries } from "./growth-curve.js";
import { startSeries } from "./start-series.js";

/** What the numbers of a fit are computed from; ages in order, counted from the origin. */
export interface CurvePoints {
  readonly t: Float64Array;
  readonly w: Float64Array;
  readonly rootWeights?: Float64Array | undefined;
  readonly carry?: Float64Array | undefined;
}

export interface CurveNumbersOptions {
  /** Value of each fixed parameter, `undefined` where free. */
  readonly fixed?: readonly (number | undefined)[] | undefined;
  readonly lower?: readonly number[] | undefined;
  readonly upper?: readonly number[] | undefined;
  /** Starts instead of, or before, the curve's own. */
  readonly starts?: readonly (readonly number[])[] | undefined;
  /** Fit from this many of the best starts and keep the lowest sum of squares. */
  readonly tries?: number | undefined;
  readonly maxIterations?: number | undefined;
}

/** Makes the engine's model of a curve at given ages. */
export function curveModel(
  curve: GrowthCurve,
  t: ArrayLike<number>,
  constants: readonly number[],
): LeastSquaresModel {
  const p = curve.parameters.length;
  const n = t.length;
  const limits = curve.parameters
    .map((each, j) => ({ j, lower: each.lower ?? -Infinity, upper: each.upper ?? Infinity }))
    .filter((each) => each.lower > -Infinity || each.upper < Infinity);
  const positive = limits.filter((each) => each.lower === 0).map((each) => each.j);
  const { gradient, everyAge } = curve;
  return {
    parameters: p,
    linear: curve.linear,
    homogeneous: curve.homogeneous === true,
    ...(positive.length === 0 ? {} : { positive }),
    evaluate: (theta, values, out) => {
      for (const { j, lower, upper } of limits) {
        if (!(theta[j]! > lower && theta[j]! < upper)) return false;
      }
      if (everyAge !== undefined) {
        everyAge(t, theta, values, out, constants);
        for (let i = 0; i < n; i++) if (values[i]! * 0 !== 0) return false;
        return true;
      }
      for (let i = 0, at = 0; i < n; i++, at += p) {
        const w = gradient(t[i]!, theta, out, at, constants);
        if (w * 0 !== 0) return false;
        values[i] = w;
      }
      return true;
    },
  };
}

/**
 * Fits a curve from its own starts: the guesses are ranked on a condensed
 * series with linear parameters projected out, the best is followed, and the
 * next ones are tried where it does not converge; then starts scattered around
 * the best guess (the answer then holds `tried`).
 */
export function fitCurveNumbers(
  curve: GrowthCurve,
  points: CurvePoints,
  constants: readonly number[],
  options: CurveNumbersOptions = {},
): LeastSquaresFit | RestartedFit | null {
  const p = curve.parameters.length;
  const model = curveModel(curve, points.t, constants);
  const { fixed, lower, upper } = options;
  const isFixed = fixed?.map((each) => each !== undefined);
  const data = {
    y: points.w,
    ...(points.rootWeights === undefined ? {} : { rootWeights: points.rootWeights }),
    ...(points.carry === undefined ? {} : { carry: points.carry }),
  };
  let best = null as LeastSquaresFit | RestartedFit | null;
  const limits = {
    ...(lower === undefined ? {} : { lower }),
    ...(upper === undefined ? {} : { upper }),
    ...(isFixed === undefined ? {} : { fixed: isFixed }),
  };
  const follow = (start: readonly number[], careful: boolean) => {
    const fit = fitLeastSquares(model, data, {
      start,
      ...limits,
      maxIterations: options.maxIterations ?? (careful ? 100 : 300),
      tolerance: 1e-9,
      damping: careful ? 0.01 : 0,
    });
    if (best === null || isBetter(fit, best)) best = fit;
  };
  const settled = () => best?.converged === true;
  const tries = Math.max(1, options.tries ?? curve.tries ?? 1);
  const likely = rankedStarts(curve, points, constants, options, tries > 1);
  for (const start of likely.slice(0, tries)) follow(start, false);
  if (!settled()) {
    const more =
      tries > 1 ? likely.slice(tries) : rankedStarts(curve, points, constants, options, true);
    for (const start of more.slice(0, 4)) {
      follow(start, true);
      if (settled()) break;
    }
  }
  // Ran off from every guess of the curve: once more, from starts scattered around the likeliest.
  if (!settled() && likely.length > 0 && curve.kinked !== true) {
    const again = fitLeastSquaresRestarted(model, data, {
      start: likely[0]!,
      ...limits,
      maxIterations: 100,
      tolerance: 1e-9,
      restarts: 8,
      spread: 0.5,
      seed: 1,
    });
    if (again.converged && (best === null || isBetter(again, best))) best = again;
  }
  return best !== null && best.theta.length === p ? best : null;
}

/** A converged fit beats one that is not, unless clearly worse; else the lower sum of squares. */
function isBetter(a: LeastSquaresFit, b: LeastSquaresFit): boolean {
  if (a.converged !== b.converged) {
    const [yes, no] = a.converged ? [a, b] : [b, a];
    const yesWins = yes.rss <= no.rss * (1 + 1e-6) || !Number.isFinite(no.rss);
    return a.converged ? yesWins : !yesWins;
  }
  return a.rss < b.rss;
}

/** The curve's guesses, best first, each with its linear parameters at their best. */
function rankedStarts(
  curve: GrowthCurve,
  points: CurvePoints,
  constants: readonly number[],
  options: CurveNumbersOptions,
  wide: boolean,
): number[][] {
  const { fixed, lower, upper } = options;
  const series = startSeries(points.t, points.w);
  const ranking =
    curve.kinked === true
      ? { ...series, t: plainArray(points.t), w: plainArray(points.w) }
      : series;
  const own = options.starts ?? curve.starts(series, constants, wide);
  const candidates: { theta: Float64Array; rss: number }[] = [];
  const freeLinear = curve.linear.filter((j) => fixed?.[j] === undefined);
  const rows = new Float64Array(ranking.t.length * curve.parameters.length);
  const left = new Float64Array(ranking.t.length);
  for (const start of own) {
    const theta = new Float64Array(start);
    for (let j = 0; j < theta.length; j++) {
      if (fixed?.[j] !== undefined) theta[j] = fixed[j]!;
      if (lower !== undefined) theta[j] = Math.max(lower[j]!, theta[j]!);
      if (upper !== undefined) theta[j] = Math.min(upper[j]!, theta[j]!);
    }
    const rss = projectedRss(curve, ranking, constants, theta, freeLinear, rows, left);
    if (!Number.isFinite(rss)) continue;
    const by = curve.diverseBy;
    const same =
      by === undefined ? -1 : candidates.findIndex((each) => each.theta[by] === theta[by]);
    if (same < 0) candidates.push({ theta, rss });
    else if (rss < candidates[same]!.rss) candidates[same] = { theta, rss };
  }
  candidates.sort((a, b) => a.rss - b.rss);
  return candidates.map((each) => plainArray(each.theta));
}

/** Sum of squares on the condensed series with the linear parameters put at their best. */
function projectedRss(
  curve: GrowthCurve,
  series: StartSeries,
  constants: readonly number[],
  theta: Float64Array,
  free: readonly number[],
  rows: Float64Array,
  left: Float64Array,
): number {
  const n = series.t.length;
  const p = theta.length;
  for (let j = 0; j < p; j++) {
    const limit = curve.parameters[j]!;
    if (theta[j]! <= (limit.lower ?? -Infinity) || theta[j]! >= (limit.upper ?? Infinity)) {
      return Number.NaN;
    }
  }
  for (let i = 0; i < n; i++) {
    left[i] = series.w[i]! - curve.gradient(series.t[i]!, theta, rows, i * p, constants);
  }
  if (free.length === 1) {
    const j = free[0]!;
    let top = 0;
    let bottom = 0;
    for (let i = 0; i < n; i++) {
      const g = rows[i * p + j]!;
      top += g * left[i]!;
      bottom += g * g;
    }
    const change = bottom > 0 ? top / bottom : 0;
    theta[j]! += change;
    for (let i = 0; i < n; i++) left[i]! -= change * rows[i * p + j]!;
  } else if (free.length > 1) {
    const a = new Float64Array(n * free.length);
    const b = Float64Array.from(left);
    const x = new Float64Array(free.length);
    free.forEach((j, c) => {
      for (let i = 0; i < n; i++) a[c * n + i] = rows[i * p + j]!;
    });
    triangularise(a, n, free.length, b);
    if (n >= free.length) backSubstitute(a, n, free.length, b, x);
    free.forEach((j, c) => {
      theta[j]! += x[c]!;
      for (let i = 0; i < n; i++) left[i]! -= x[c]! * rows[i * p + j]!;
    });
  }
  let rss = 0;
  for (let i = 0; i < n; i++) rss += left[i]! * left[i]!;
  return rss;
}
