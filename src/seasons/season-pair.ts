import type { Measured } from "../core/measured.js";
import type { Notice } from "../core/notice.js";
import type { ArrivalNearSeason } from "./arrival-near-season.js";
import type { DetectableDifference } from "./detectable-difference.js";
import type { Equivalence } from "./pair-equivalence.js";
import type { ResampledDifference } from "./resample-difference.js";
import type { UnadjustedDifference } from "./unadjusted-difference.js";

export interface SeasonPair {
  readonly from: string;
  readonly to: string;
  /** Adjusted difference, `to` minus `from`, g/d. */
  readonly difference: Measured;
  readonly df: number;
  readonly p: number;
  /** Holm's p among the pairs compared; the decision rests on it. */
  readonly adjustedP: number;
  /** Tukey's p among all seasons of the model (studentised range); null with two seasons. */
  readonly tukeyP: number | null;
  readonly decision: "differs" | "alike within the margin" | "cannot be separated" | "not shown";
  /** Where arrival nearly tells the season; null elsewhere. */
  readonly arrival: ArrivalNearSeason | null;
  readonly equivalence: Equivalence | null;
  /** Without adjustment: Welch's t and Hedges' g. */
  readonly unadjusted: UnadjustedDifference | null;
  readonly resampled: ResampledDifference | null;
  readonly detectable: DetectableDifference | null;
  readonly sentences: readonly Notice[];
}
