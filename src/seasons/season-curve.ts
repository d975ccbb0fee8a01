import type { Interval } from "../core/measured.js";

export interface SeasonCurve {
  readonly season: string;
  readonly n: number;
  /** Mass of a typical animal with the common arrival, g, at each age. */
  readonly points: readonly {
    readonly ageD: number;
    readonly massG: number;
    readonly interval: Interval;
  }[];
}

export interface CurveDifference {
  readonly from: string;
  readonly to: string;
  /** How much heavier, %, `to` than `from`, at each age; intervals age by age. */
  readonly points: readonly {
    readonly ageD: number;
    readonly percent: number;
    readonly interval: Interval;
  }[];
}
