import type { Measured } from "../core/measured.js";
import type { Notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { AnimalDay } from "../flags/animal-day/flag.js";
import type { FoundFlags } from "../flags/find-flags.js";
import type { FitComparison } from "../growth/compare-fits.js";
import type { CurveFit } from "../growth/fit-curve.js";
import type { DailyGain } from "../rates/daily-gains.js";
import type { FeedConversion } from "../rates/feed-conversion.js";
import type { FirstWeek } from "../rates/first-week.js";
import type { GainBetween } from "../rates/gain-between.js";
import type { GainOverWindow } from "../rates/gain-over-window.js";
import type { IntakeDay } from "../rates/intake-by-day.js";
import type { KeptIntake } from "../rates/kept-intake.js";
import type { MeanIntake } from "../rates/mean-intake.js";
import type { Phase, PhaseName } from "../rates/phases-of.js";
import type { SignAlert } from "../rates/sign-alerts.js";
import type {
  InputFile,
  Question,
  SetAsideRow,
  StudySettings,
  TableCount,
} from "../records/study.js";
import type { ContemporaryZ } from "../reference/z-scores.js";
import type {
  AnimalSeries,
  CivilDate,
  DailyMass,
  NetWeighing,
  StudySeries,
} from "../series/animal-series.js";
import type { CurveTrace } from "./curve-trace.js";
import type { RivalExplanations } from "./explanations/explanation.js";

/** Everything `analyse` finds in one study, up to the end of one feeding day. */
export interface StudyAnalysis {
  readonly title: string;
  readonly settings: StudySettings;
  /** Last feeding day looked at; nothing later was read. */
  readonly onDay: CivilDate;
  /** Days over which a recent gain is taken. */
  readonly gainDays: number;
  /** What diets are called on pages. */
  readonly diets: readonly { readonly dietId: string; readonly name: string | null }[];
  readonly records: {
    readonly counts: readonly TableCount[];
    readonly setAside: readonly SetAsideRow[];
    readonly notices: readonly Notice[];
    readonly inputs: readonly InputFile[];
    /** Weighings under suspicion of a slip, with the suggested correction. */
    readonly slips: readonly { readonly animalId: string; readonly weighing: NetWeighing }[];
    /** What cannot be computed because a table is missing or empty. */
    readonly missing: readonly Notice[];
    /** Instant of the newest row, up to the day, that stands with others; null without any row. */
    readonly end: number | null;
    /** Rows and cells up to the day that people must be asked about. */
    readonly questions: readonly Question[];
    /**
     * Whether the day looked at is the one in which one lives, by the clock that was given.
     * A page of an earlier day, and one of records that ended long ago, tell how things
     * stood then.
     */
    readonly tellsOfNow: boolean;
    /** What the first line of every page says of its day: empty where all is well. */
    readonly aboutDay: readonly Notice[];
  };
  readonly series: StudySeries;
  readonly animals: readonly AnimalAnalysis[];
  readonly flags: Result<"find-flags", FoundFlags>;
}

/** What is known of one animal at the end of the day. */
export interface AnimalAnalysis {
  readonly animalId: string;
  readonly name: string | null;
  readonly species: string;
  readonly season: string | null;
  readonly inCare: boolean;
  /** Why it is here though the animals table says that it is not; null for all others. */
  readonly outsideStay: Notice | null;
  readonly series: AnimalSeries;
  readonly phases: readonly Phase[];
  /** The phase on the last day; null when no phase is known. */
  readonly phase: PhaseName | null;
  readonly first: DailyMass | null;
  readonly last: DailyMass | null;
  /** Smoothed mass at the last weighing, g. */
  readonly smoothedMass: Measured;
  readonly gain: {
    /** Day by day, each from data up to that day only. */
    readonly daily: readonly DailyGain[];
    /** Regression over the last days up to the last weighing (`gainDays` of the analysis). */
    readonly recent: GainOverWindow;
    /** From the first weighing to the last: difference over time. */
    readonly overall: GainBetween | null;
  };
  readonly intake: Result<"intake-by-day", readonly IntakeDay[]>;
  /** Mean of the last complete feeding days (default 7). */
  readonly recentIntake: MeanIntake;
  readonly conversion: Result<"feed-conversion", FeedConversion>;
  readonly curves: readonly AnimalCurve[];
  /** The curves compared by AICc and residual pattern, with the choice in two sentences. */
  readonly curveChoice: FitComparison;
  /**
   * z of its mass for its age and of its recent gain against contemporaries,
   * earlier seasons included where asked. Shown beside the day's flags and not
   * counted in their budget. Null when it is not in care that day.
   */
  readonly z: { readonly level: ContemporaryZ; readonly gain: ContemporaryZ } | null;
  /** Eaten and kept over the 24 h up to its last record. */
  readonly kept: KeptIntake;
  /** Its first week, while it lasts; null later, and where the admission is not known. */
  readonly firstWeek: FirstWeek | null;
  /** What its signs raised, in order of time. */
  readonly alerts: readonly SignAlert[];
  /**
   * Why it may gain slowly, where the watch over its weighings raised its gain: the
   * board, the hand-over and its page speak from here. Null for all others.
   */
  readonly slow: RivalExplanations | null;
  /** What the flags say of it that day; null when it is not in care. */
  readonly day: AnimalDay | null;
  readonly notices: readonly Notice[];
}

export interface AnimalCurve {
  readonly fit: CurveFit;
  /** Points of the curve with bands, for drawing. */
  readonly trace: CurveTrace;
  /**
   * Final mass of the curve over the largest mass it was fitted to; null for
   * curves without a final mass. Well above 1 it is an extrapolation that the
   * form of the curve makes, however small its standard error.
   */
  readonly finalOverLargest: number | null;
}
