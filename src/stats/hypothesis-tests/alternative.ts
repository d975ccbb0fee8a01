import { studentTCumulative, studentTTwoSided } from "../distributions/student-t.js";

/** What is held against "no difference": either direction, or one of them. */
export type Alternative = "two-sided" | "less" | "greater";

/** The p-value of a t ratio under the named alternative. */
export function tRatioP(t: number, df: number, alternative: Alternative): number {
  if (alternative === "less") return studentTCumulative(t, df);
  if (alternative === "greater") return studentTCumulative(t, df, "upper");
  return studentTTwoSided(t, df);
}

/** Doubles the smaller tail, at most 1. */
export function twoSided(lower: number, upper: number): number {
  return Math.min(1, 2 * Math.min(lower, upper));
}
