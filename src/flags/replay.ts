import type { LongWork } from "../core/long-work.js";
import type { IntakeDay } from "../rates/intake-by-day.js";
import type { CivilDate } from "../series/animal-series.js";
import type { Acknowledgement, Episode } from "./animal-day/episode.js";
import type { AnimalDay } from "./animal-day/flag.js";
import type { FlagCalibration } from "./budget/false-flag-budget.js";
import type { FlagCounts } from "./count-animals.js";
import type { RuleLimits } from "./rules/rule-limits.js";
import type { SharedCause } from "./shared-cause.js";
import type { ShortTogether } from "./watch/short-together.js";
import type { PerStatistic } from "./watch/watch-group.js";
import type { BorrowedFor, ExpectedCourse } from "./watch/watch-of-study.js";

export interface ReplayOptions extends LongWork {
  /** Days handed back. Default: every day from the first weighing to the last. */
  readonly from?: CivilDate;
  readonly to?: CivilDate;
  /** The one number to choose: false flags per 100 healthy animal-weeks, 0.5 to 10. Default 2. */
  readonly falseFlagsPer100AnimalWeeks?: number;
  /** Thresholds found for another world than the one that ships; see `calibrateFlags`. */
  readonly calibration?: FlagCalibration;
  readonly rules?: Partial<RuleLimits>;
  readonly acknowledgements?: readonly Acknowledgement[];
  /** Phase of an animal on a day, from data up to that day. Default: worked out here. */
  readonly phaseOn?: (animalId: string, day: CivilDate) => string | null;
  /** Intake by day where it is worked out already, by animal. Default: worked out here. */
  readonly intakeOf?: (animalId: string) => readonly IntakeDay[] | undefined;
  /** Animals whose record ended earlier stay in the reference. Default true. */
  readonly earlierSeasons?: boolean;
  /** Whether seasons that are short together are looked for on the days handed back. Default true. */
  readonly together?: boolean;
}

/** The list of one day. */
export interface FlagDay {
  readonly onDay: CivilDate;
  /** Every animal in care that day, worst first; then not judged; then not flagged. */
  readonly animals: readonly AnimalDay[];
  readonly counts: FlagCounts;
  /** Episodes open at the end of the day, one for each animal in trouble. */
  readonly open: readonly Episode[];
  /** Episodes that closed on the day. */
  readonly closed: readonly Episode[];
  readonly sharedCauses: readonly SharedCause[];
  /** Seasons whose animals are all short together, which no animal shows beside the others. */
  readonly together: readonly ShortTogether[];
}

export interface Replay {
  readonly days: readonly FlagDay[];
  /** Every episode from the first record to the last day, in order of opening; open ones included. */
  readonly episodes: readonly Episode[];
  /** What was borrowed for the seasons in care on the last day. */
  readonly borrowed: readonly BorrowedFor[];
  /** One an animal that was weighed twice by then; none in the arrival phase or the fast. */
  readonly courses: readonly ExpectedCourse[];
  /** Thresholds used, by size of group. */
  readonly thresholds: readonly { readonly animals: number; readonly values: PerStatistic }[];
}
