import { requireList } from "../../core/require-numbers.js";
import { normalQuantile } from "../distributions/normal.js";
import { studentTCumulative } from "../distributions/student-t.js";
import { madToSd } from "./mad-to-sd.js";
import { median } from "./median.js";

export type GroupZ =
  | {
      readonly z: number;
      readonly by: "median and MAD" | "Student's t";
      readonly centre: number;
      readonly spread: number;
    }
  | { readonly z: null; readonly why: "too few" | "no spread" | "not finite" };

/** Fewest others for the median and MAD; below it Student's t serves. */
const enoughForMedian = 8;
const fewestOthers = 3;

/**
 * How far a new value stands from a group that does not contain it, in standard
 * deviations. With 8 and more others: (x - median)/(1.4826 MAD). With 3 to 7:
 * t = (x - mean)/(s sqrt(1 + 1/n)) on n - 1 degrees of freedom, turned into the
 * normal z with the same tail probability, so that one cut-off keeps its error
 * rate at every n. A group without spread gives no z.
 *
 * Definitions: modified z-score of Iglewicz and Hoaglin (1993) with 1.4826 for
 * 1/0.6745; prediction of one new value from a normal sample, textbook.
 *
 * @example groupZ(4, [1, 2, 3, 4, 5]) // t = 0.5774 on 4 df, z 0.5172
 */
export function groupZ(x: number, others: readonly number[]): GroupZ {
  requireList("groupZ", "the others", others);
  const n = others.length;
  if (!Number.isFinite(x) || !others.every(Number.isFinite)) return { z: null, why: "not finite" };
  if (n < fewestOthers) return { z: null, why: "too few" };
  if (n >= enoughForMedian) {
    const centre = median(others)!;
    const spread = madToSd * median(others.map((v) => Math.abs(v - centre)))!;
    if (!(spread > 0)) return { z: null, why: "no spread" };
    return { z: (x - centre) / spread, by: "median and MAD", centre, spread };
  }
  return groupT(x, others);
}

/**
 * As {@link groupZ}, by Student's t at every n: its tails are right for normal
 * values however few others there are, where the MAD of a small group is not.
 *
 * @example groupT(4, [1, 2, 3, 4, 5]) // z 0.5172
 */
export function groupT(x: number, others: readonly number[]): GroupZ {
  requireList("groupT", "the others", others);
  const n = others.length;
  if (!Number.isFinite(x) || !others.every(Number.isFinite)) return { z: null, why: "not finite" };
  if (n < fewestOthers) return { z: null, why: "too few" };
  const centre = others.reduce((a, b) => a + b, 0) / n;
  const variance = others.reduce((a, b) => a + (b - centre) ** 2, 0) / (n - 1);
  const spread = Math.sqrt(variance);
  if (!(spread > 0)) return { z: null, why: "no spread" };
  const t = (x - centre) / (spread * Math.sqrt(1 + 1 / n));
  const tail = studentTCumulative(Math.abs(t), n - 1, "upper");
  const z = Math.sign(t) * normalQuantile(Math.max(tail, 1e-300), "upper");
  return { z: t === 0 ? 0 : z, by: "Student's t", centre, spread };
}
