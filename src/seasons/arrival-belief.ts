import type { ArrivalSlope } from "../series/animal-series.js";
import type { AdjustedModel } from "./adjusted-model.js";
import { freeArrivalSlope } from "./arrival-estimate.js";

/** What is believed, before the animals are looked at, of a day later at arrival: a share of gain. */
export interface ArrivalBelief {
  readonly perDay: number;
  readonly sd: number;
  readonly nurseries: number;
  readonly animals: number;
}

/** Common practice, no source: how nurseries differ, and what a day later does at all. */
const between = 0.002;
const atAll = 0.005;
/** How firmly `between` is held against what files show, in files. */
const firmness = 6;

/**
 * What prior files say of the slope of gain on arrival in a house to come: a normal
 * meta-analysis with spread between nurseries, begun at "none, give or take 0.5 % a day".
 * Null without a file that tells it.
 *
 * Source: random effects with known spread, DerSimonian and Laird (1986) Control Clin Trials
 * 7:177-188, eq. 3; the spread is what the files show, shrunk towards common practice.
 *
 * @example arrivalBelief([]) // null
 */
export function arrivalBelief(files: readonly ArrivalSlope[]): ArrivalBelief | null {
  if (files.length === 0) return null;
  const spread = spreadOf(files);
  let precision = 1 / atAll ** 2;
  let pulled = 0;
  for (const f of files) {
    const w = 1 / (f.sd ** 2 + spread);
    precision += w;
    pulled += w * f.perDay;
  }
  return {
    perDay: pulled / precision,
    sd: Math.sqrt(1 / precision + spread),
    nurseries: files.length,
    animals: files.reduce((n, f) => n + f.animals, 0),
  };
}

/**
 * Several slopes as one: of studies of one house (no spread between them), or of houses as
 * what all of them know of a house to come, each one's own deviation taken out. Null of none.
 *
 * @example combineArrivalSlopes([{ perDay: 0.002, sd: 0.003, animals: 9 }], "one house")?.sd // 0.003
 */
export function combineArrivalSlopes(
  slopes: readonly ArrivalSlope[],
  of: "one house" | "houses",
): ArrivalSlope | null {
  if (slopes.length === 0) return null;
  const spread = of === "houses" && slopes.length > 1 ? spreadOf(slopes) : 0;
  const weights = slopes.map((s) => 1 / (s.sd ** 2 + spread));
  const total = weights.reduce((a, b) => a + b, 0);
  return {
    perDay: slopes.reduce((sum, s, i) => sum + weights[i]! * s.perDay, 0) / total,
    sd: 1 / Math.sqrt(total),
    animals: slopes.reduce((n, s) => n + s.animals, 0),
  };
}

/** Variance between nurseries. */
function spreadOf(slopes: readonly ArrivalSlope[]): number {
  const variances = slopes.map((s) => s.sd ** 2 + between ** 2);
  const total = variances.reduce((sum, v) => sum + 1 / v, 0);
  const centre = slopes.reduce((sum, s, i) => sum + s.perDay / variances[i]!, 0) / total;
  const squares = slopes.reduce((sum, s, i) => sum + (s.perDay - centre) ** 2 / variances[i]!, 0);
  return (between ** 2 * (firmness + squares)) / (firmness + slopes.length - 1);
}

/**
 * What the animals of a fitted model show of it, for a prior file. Null where arrival age is
 * not in the model or the spread cannot be told. The error of a slope from few animals is
 * that of Student's t.
 */
export function arrivalSlope(model: AdjustedModel): ArrivalSlope | null {
  const slope = freeArrivalSlope(model);
  const gain = model.response.reduce((s, y) => s + y, 0) / model.n;
  if (slope === null || !(slope.se > 0) || !(gain > 0)) return null;
  const wide = Math.sqrt(model.df / (model.df - 2));
  return { perDay: slope.perDay / gain, sd: (slope.se / gain) * wide, animals: model.n };
}
