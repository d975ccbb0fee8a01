import { noncentralTCumulative } from "../stats/distributions/noncentral-t.js";
import { normalQuantile } from "../stats/distributions/normal.js";
import { studentTQuantile, studentTTwoSided } from "../stats/distributions/student-t.js";
import { findRoot } from "../stats/numeric/find-root.js";
import type { AdjustedModel } from "./adjusted-model.js";
import type { ArrivalBelief } from "./arrival-belief.js";
import {
  type ArrivalEstimate,
  arrivalColumns,
  arrivalEstimate,
  freeArrivalSlope,
} from "./arrival-estimate.js";

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

/** Chance that arrival does here what it does in no other nursery. */
const unlikeOthers = 0.3;

/** A difference of seasons where arrival nearly tells the season. */
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
  /** What prior files say of arrival and how far it was followed, 0 to 1; null without. */
  readonly borrowed: (ArrivalBelief & { readonly share: number }) | null;
}

/**
 * A contrast of the seasons of a fitted model whose arrival ages or masses nearly
 * tell the season. A free slope on arrival, which only the scatter within seasons can
 * tell, makes such a difference so uncertain that nothing is ever shown; no slope at
 * all takes arrival for season. Here slopes are shrunk: estimated from the animals of
 * all seasons and bounded by what arrival can do at all (`mostPerDay`), and interval
 * and p allow for the largest bias that the bounds leave. The weight of the bounds is
 * the one with the shortest interval, which depends on arrivals and spread alone. Where
 * prior files tell the slope, p is the mean of that one and of one under their belief,
 * each counted by how well it foretold the slope within seasons; the interval holds the
 * differences with p above 1 - level. Null where arrival does not nearly tell the season.
 *
 * Source: Donoho (1994) Ann Stat 22:238-270; Armstrong and Kolesár (2018) Econometrica
 * 86:655-683, with Student's t (non-central) for the estimated spread; the mixture after
 * Schmidli et al. (2014) Biometrics 70:1023-1032.
 *
 * @param contrast a weight for each season of the model; they sum to 0.
 */
export function boundedArrival(
  model: AdjustedModel,
  contrast: readonly number[],
  level: number,
  belief: ArrivalBelief | null = null,
): BoundedArrival | null {
  const columns = arrivalColumns(model);
  const vague = worstCase(model, columns, contrast, level);
  if (vague === null) return null;
  const informed = belief === null ? null : underBelief(model, columns, contrast, belief);
  const share = informed === null ? 0 : shareOf(belief!, model);
  const mixed = (of: (part: Part) => number) =>
    share === 0 ? of(vague) : share * of(informed!) + (1 - share) * of(vague);
  const pOf = (truth: number) => mixed((part) => part.p(truth));
  const [lower, upper] =
    share === 0
      ? [vague.difference - vague.cut, vague.difference + vague.cut]
      : [-1, 1].map((side) => edge(pOf, [vague, informed!], side, 1 - level));
  return {
    difference: mixed((part) => part.difference),
    se: mixed((part) => part.se),
    df: model.df,
    bias: (1 - share) * vague.bias,
    lower: lower!,
    upper: upper!,
    p: Math.min(1, pOf(0)),
    inflation: vague.inflation,
    borrowed: share === 0 ? null : { ...belief!, share },
  };
}

/** A difference by one belief about arrival, and the p of any true difference. */
interface Part {
  readonly difference: number;
  readonly se: number;
  p(truth: number): number;
}

/** By what arrival can do at most. */
function worstCase(
  model: AdjustedModel,
  columns: readonly (readonly number[])[],
  contrast: readonly number[],
  level: number,
): (Part & { readonly bias: number; readonly cut: number; readonly inflation: number }) | null {
  const gain = meanGain(model);
  const bounds = boundsOf(model, {
    age: mostPerDay * gain,
    mass: (mostPerShareOfMass * gain) / (model.at.arrivalMassG / 1000),
  });
  if (!bounds.some(Number.isFinite)) return null;
  const estimates = (weight: number) => arrivalEstimate(model, columns, bounds, contrast, weight);
  const inflation = (estimates(0).length / estimates(Number.POSITIVE_INFINITY).length) ** 2;
  if (!(inflation >= nearlySame) || !(model.residualSd > 0)) return null;
  const best = weights
    .map(estimates)
    .reduce((x, y) => (half(y, model, level) < half(x, model, level) ? y : x));
  const se = model.residualSd * best.length;
  const ratio = best.bias / se;
  return {
    difference: best.difference,
    se,
    bias: best.bias,
    cut: se * foldedQuantile(level, model.df, ratio),
    inflation,
    p: (truth) => outside(Math.abs(best.difference - truth) / se, model.df, ratio),
  };
}

/** Half the interval, close enough to choose by: two-sided without bias, one-sided with much of it. */
function half(e: ArrivalEstimate, model: AdjustedModel, level: number): number {
  const z = normalQuantile(level);
  const se = model.residualSd * e.length;
  const t = e.bias / se;
  const multiple = Math.max(t + z, normalQuantile(0.5 + level / 2) + (t * t) / 2.5);
  return se * (t > 0.6 ? t + z + 0.03 : multiple);
}

/**
 * By what prior files say: the slope is normal, so the difference is too. Degrees of freedom
 * after Satterthwaite (1946) Biometrics Bull 2:110-114: only the part from the animals' spread is estimated.
 */
function underBelief(
  model: AdjustedModel,
  columns: readonly (readonly number[])[],
  contrast: readonly number[],
  belief: ArrivalBelief,
): Part | null {
  const age = columns[model.used.indexOf("arrival age")];
  if (age === undefined) return null;
  const gain = meanGain(model);
  const bounds = boundsOf(model, { age: belief.sd * gain, mass: Number.POSITIVE_INFINITY });
  const rest = model.response.map((y, i) => y - belief.perDay * gain * age[i]!);
  // A slope in units of its own standard deviation costs one variance.
  const best = arrivalEstimate(model, columns, bounds, contrast, 1, rest);
  const own = (model.residualSd * best.length) ** 2;
  const variance = own + best.bias ** 2;
  const df = model.df * (variance / own) ** 2;
  const se = Math.sqrt(variance);
  return {
    difference: best.difference,
    se,
    p: (truth) => studentTTwoSided((best.difference - truth) / se, df),
  };
}

/** How far the files are followed: by how well they foretold the slope that seasons show within. */
function shareOf(belief: ArrivalBelief, model: AdjustedModel): number {
  const slope = freeArrivalSlope(model);
  if (slope === null) return 0;
  const gain = meanGain(model);
  const off = (centre: number, sd: number) => {
    const variance = sd ** 2 + (slope.se / gain) ** 2;
    return -0.5 * (Math.log(variance) + (slope.perDay / gain - centre) ** 2 / variance);
  };
  const odds =
    ((1 - unlikeOthers) / unlikeOthers) *
    Math.exp(off(belief.perDay, belief.sd) - off(0, mostPerDay));
  return odds === Number.POSITIVE_INFINITY ? 1 : odds / (1 + odds);
}

function boundsOf(model: AdjustedModel, of: { readonly age: number; readonly mass: number }) {
  const aged = model.used.includes("arrival age");
  return model.used.map((name) =>
    name === "arrival age"
      ? of.age
      : name === "arrival mass" && !aged
        ? of.mass
        : Number.POSITIVE_INFINITY,
  );
}

function meanGain(model: AdjustedModel): number {
  return Math.abs(model.response.reduce((s, y) => s + y, 0) / model.n);
}

/** The outermost true difference on one side whose p is `alpha`. */
function edge(
  p: (truth: number) => number,
  parts: readonly [Part, Part],
  side: number,
  alpha: number,
): number {
  const root = (near: number, far: number) =>
    findRoot((truth) => p(truth) - alpha, near, far, { tolerance: 1e-9 * Math.abs(far - near) }).x;
  const [inner, outer] = parts.map((part) => part.difference).sort((a, b) => side * (a - b));
  // A part that hardly counts does not reach as far as its own difference.
  if (p(outer!) <= alpha) return root(inner!, outer!);
  let near = outer!;
  let step = Math.max(...parts.map((part) => part.se));
  while (p(near + side * step) > alpha) {
    near += side * step;
    step *= 2;
  }
  return root(near, near + side * step);
}

/** P(|T| > t) of the non-central t. */
function outside(t: number, df: number, centre: number): number {
  return (
    noncentralTCumulative(t, df, centre, "upper") + noncentralTCumulative(-t, df, centre, "lower")
  );
}

/** The value that |T| exceeds with probability 1 - level. */
function foldedQuantile(level: number, df: number, centre: number): number {
  const low = studentTQuantile(0.5 + level / 2, df);
  if (centre === 0) return low;
  let high = low + 4 * centre + 4;
  while (outside(high, df, centre) > 1 - level) high *= 2;
  return findRoot((t) => outside(t, df, centre) - (1 - level), low, high).x;
}
