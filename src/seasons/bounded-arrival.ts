import { noncentralTCumulative } from "../stats/distributions/noncentral-t.js";
import { normalQuantile } from "../stats/distributions/normal.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import { choleskyFactor, solveCholesky } from "../stats/linear-algebra/cholesky.js";
import { makeMatrix } from "../stats/linear-algebra/matrix.js";
import { type AdjustedModel, contrast } from "./adjusted-model.js";

/**
 * How much arrival is taken to change gain at most, as a share of the mean gain: by 1 %
 * for each day later, and by 1 % for each per cent heavier at that age. Common sense, not measured
 * anywhere; it stands in the sentence of every answer that rests on it.
 */
export const mostPerDay = 0.01;
const mostPerShareOfMass = 1;

/** From this inflation of the difference's variance by arrival on, season and arrival nearly coincide. */
const nearlySame = 1.5;

/** Weights on the bounds that are tried: from free slopes to none. */
const weights = [0, 0.03, 0.1, 0.3, 1, 3, 10, 30, 100];

/** The difference of two seasons where arrival nearly tells the season. */
export interface BoundedArrival {
  readonly difference: number;
  readonly se: number;
  readonly df: number;
  /** The most that arrival may still have moved the difference, g/d. */
  readonly bias: number;
  readonly lower: number;
  readonly upper: number;
  readonly p: number;
  /** Variance of the freely adjusted difference over that without arrival. */
  readonly inflation: number;
}

/**
 * The difference of two seasons of a fitted model whose arrival ages or masses nearly
 * tell the season. A free slope on arrival, which only the scatter within seasons can
 * tell, makes such a difference so uncertain that nothing is ever shown; no slope at
 * all takes arrival for season. Here slopes are shrunk: estimated from the animals of
 * all seasons and bounded by what arrival can do at all (`mostPerDay`), and interval
 * and p allow for the largest bias that the bounds leave. The weight of the bounds is
 * the one with the shortest interval, which depends on arrivals and spread alone. Null
 * where arrival does not nearly tell the season.
 *
 * Source: Donoho (1994) Ann Stat 22:238-270; Armstrong and Kolesár (2018) Econometrica
 * 86:655-683, with Student's t (non-central) for the estimated spread.
 */
export function boundedArrival(
  model: AdjustedModel,
  from: string,
  to: string,
  level: number,
): BoundedArrival | null {
  const gain = Math.abs(model.response.reduce((s, y) => s + y, 0) / model.n);
  const bounds = model.used.map((name) =>
    name === "arrival age"
      ? mostPerDay * gain
      : name === "arrival mass" && !model.used.includes("arrival age")
        ? (mostPerShareOfMass * gain) / (model.at.arrivalMassG / 1000)
        : Number.POSITIVE_INFINITY,
  );
  if (!bounds.some(Number.isFinite)) return null;
  const a = model.seasons.indexOf(from);
  const b = model.seasons.indexOf(to);
  const columns = arrivalColumns(model);
  const estimates = (weight: number) => linearEstimate(model, columns, bounds, a, b, weight);
  const without = estimates(Number.POSITIVE_INFINITY);
  const free = contrast(model, from, to);
  const inflation = (free.se / (model.residualSd * without.length)) ** 2;
  if (!(inflation >= nearlySame) || !(model.residualSd > 0)) return null;
  const z = normalQuantile(level);
  const half = (e: LinearEstimate) => {
    const se = model.residualSd * e.length;
    const t = e.bias / se;
    // Close enough to choose by: two-sided without bias, one-sided with much of it.
    const multiple = Math.max(t + z, normalQuantile(0.5 + level / 2) + (t * t) / 2.5);
    return se * (t > 0.6 ? t + z + 0.03 : multiple);
  };
  const best = weights.map(estimates).reduce((x, y) => (half(y) < half(x) ? y : x));
  const se = model.residualSd * best.length;
  const ratio = best.bias / se;
  const cut = se * foldedQuantile(level, model.df, ratio);
  const t = Math.abs(best.difference) / se;
  return {
    difference: best.difference,
    se,
    df: model.df,
    bias: best.bias,
    lower: best.difference - cut,
    upper: best.difference + cut,
    p: Math.min(1, outside(t, model.df, ratio)),
    inflation,
  };
}

interface LinearEstimate {
  readonly difference: number;
  /** Length of the weights: the standard error for a spread of 1. */
  readonly length: number;
  readonly bias: number;
}

/** Penalised least squares: slopes in units of their bounds, each square costing `weight` variances. */
function linearEstimate(
  model: AdjustedModel,
  columns: readonly (readonly number[])[],
  bounds: readonly number[],
  a: number,
  b: number,
  weight: number,
): LinearEstimate {
  const seasons = model.seasons.length;
  const keep = bounds.flatMap((bound, j) =>
    weight === Number.POSITIVE_INFINITY && Number.isFinite(bound) ? [] : [j],
  );
  const scale = (j: number) => (Number.isFinite(bounds[j]!) ? bounds[j]! : 1);
  const rows = model.design.map((row, i) => [
    ...row.slice(0, seasons),
    ...keep.map((j) => columns[j]![i]! * scale(j)),
  ]);
  const p = seasons + keep.length;
  const cross = makeMatrix(p, p);
  for (const row of rows)
    for (let i = 0; i < p; i++)
      for (let j = 0; j < p; j++) cross.data[i * p + j]! += row[i]! * row[j]!;
  keep.forEach((j, c) => {
    if (Number.isFinite(bounds[j]!))
      cross.data[(seasons + c) * (p + 1)]! += weight * model.residualSd ** 2;
  });
  const wanted = new Float64Array(p);
  wanted[a] = -1;
  wanted[b] = 1;
  const solved = solveCholesky(choleskyFactor(cross)!, wanted);
  const w = rows.map((row) => row.reduce((s, x, j) => s + x * solved[j]!, 0));
  let bias = 0;
  bounds.forEach((bound, j) => {
    if (!Number.isFinite(bound)) return;
    const moved = w.reduce((s, wi, i) => s + wi * columns[j]![i]!, 0);
    bias += Math.abs(moved) * bound;
  });
  return {
    difference: w.reduce((s, wi, i) => s + wi * model.response[i]!, 0),
    length: Math.sqrt(w.reduce((s, wi) => s + wi * wi, 0)),
    bias,
  };
}

/**
 * The columns of the adjustments, arrival mass as mass for age: an animal that arrives
 * later is heavier by that alone, and must not be bounded twice.
 */
function arrivalColumns(model: AdjustedModel): number[][] {
  const k = model.seasons.length;
  const columns = model.used.map((_, j) => model.design.map((row) => row[k + j]!));
  const age = columns[model.used.indexOf("arrival age")];
  const mass = model.used.indexOf("arrival mass");
  if (age === undefined || mass < 0) return columns;
  // Both are centred.
  const square = age.reduce((s, x) => s + x * x, 0);
  const slope = age.reduce((s, x, i) => s + x * columns[mass]![i]!, 0) / square;
  columns[mass] = columns[mass]!.map((m, i) => m - slope * age[i]!);
  return columns;
}

/** P(|T| > t) of the non-central t. */
function outside(t: number, df: number, centre: number): number {
  return (
    noncentralTCumulative(t, df, centre, "upper") + noncentralTCumulative(-t, df, centre, "lower")
  );
}

/** The value that |T| exceeds with probability 1 - level. */
function foldedQuantile(level: number, df: number, centre: number): number {
  let low = studentTQuantile(0.5 + level / 2, df);
  if (centre === 0) return low;
  let high = low + 4 * centre + 4;
  while (outside(high, df, centre) > 1 - level) high *= 2;
  low = Math.min(low, high);
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (outside(middle, df, centre) > 1 - level) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
