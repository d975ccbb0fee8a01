import { studentTQuantile, studentTTwoSided } from "../stats/distributions/student-t.js";
import { studentizedRangeCumulative } from "../stats/distributions/studentized-range.js";
import { type AdjustedModel, contrast } from "./adjusted-model.js";

/** One adjusted difference of a fitted model with its error, interval and p. */
export interface PairEstimate {
  readonly difference: number;
  readonly se: number;
  readonly df: number;
  readonly lower: number;
  readonly upper: number;
  readonly p: number;
}

/** Tukey's p of a t among all seasons of the model; null with two seasons. */
export function tukeyP(t: number, model: AdjustedModel): number | null {
  const k = model.seasons.length;
  if (k < 3 || !Number.isFinite(t)) return null;
  return studentizedRangeCumulative(Math.abs(t) * Math.SQRT2, k, model.df, "upper");
}

/** The difference of two seasons, `to` minus `from`, by Student's t. */
export function pairEstimate(
  model: AdjustedModel,
  from: string,
  to: string,
  level: number,
): PairEstimate {
  return estimateByT(contrast(model, from, to), model.df, level);
}

/** A difference with its error as an estimate: interval and two-sided p by Student's t. */
export function estimateByT(
  { difference, se }: { readonly difference: number; readonly se: number },
  df: number,
  level: number,
): PairEstimate {
  const t = studentTQuantile(1 - (1 - level) / 2, df);
  return {
    difference,
    se,
    df,
    lower: difference - t * se,
    upper: difference + t * se,
    p: se > 0 ? studentTTwoSided(difference / se, df) : difference === 0 ? 1 : 0,
  };
}
