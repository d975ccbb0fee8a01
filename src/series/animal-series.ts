import type { Notice } from "../core/notice.js";
import type {
  AnimalRow,
  AnswerRow,
  CivilDate,
  Composition,
  DecisionRow,
  EventRow,
  FeedRow,
  Instant,
  ScaleCheckRow,
  StudySettings,
  WeighingRow,
} from "../records/study.js";
import type { KitchenBatch } from "./kitchen-batches.js";
import type { AnimalOrders, UnusedOrder } from "./orders/orders-of.js";
import type { Sign } from "./signs/sign.js";

export { priorAgesD } from "../records/prior-ages.js";
export type {
  ArrivalSlope,
  LogNormal,
  PopulationSummary,
  PriorFile,
} from "../records/prior-file.js";

/**
 * One animal's history on one time axis: what every later room reads. Built by
 * `buildSeries(study)`; order of rows in the files does not matter.
 */
export interface AnimalSeries {
  readonly animal: AnimalRow;
  readonly age: AgeBasis;
  /** Every accepted weighing, in order of time, with net mass and what stands against it. */
  readonly weighings: readonly NetWeighing[];
  /** One weighing for each feeding day that has one, with the reason for the choice. */
  readonly daily: readonly DailyMass[];
  /** Every feed of this animal, in order of time. */
  readonly feeds: readonly SeriesFeed[];
  /** Feeds given to a group this animal was housed in: they cannot be attributed. */
  readonly sharedFeeds: readonly FeedRow[];
  /** Every observation with what it means, in order of time: the one reading of them. */
  readonly signs: readonly Sign[];
  readonly orders: AnimalOrders;
  /** First and last instant with any record, and the outcome instant when known. */
  readonly span: { readonly from: Instant; readonly to: Instant } | null;
  readonly notices: readonly Notice[];
}

export interface AgeBasis {
  /** Local noon of the earliest and latest birth date; null when unknown. */
  readonly birthEarliest: Instant | null;
  readonly birthLatest: Instant | null;
  /** Middle of the range: age in days = (instant - birth) / 86,400,000. */
  readonly birth: Instant | null;
  readonly rangeDays: number | null;
  /** False when unknown or estimated from mass (weight-for-age would be circular). */
  readonly usableForWeightForAge: boolean;
}

export interface NetWeighing {
  readonly row: WeighingRow;
  readonly at: Instant;
  readonly feedingDay: CivilDate;
  /** Reading minus tare; null when the tare is blank and not known to be zero. */
  readonly netG: number | null;
  /** Age in days at `at`, not whole days; null when the birth date is unknown. */
  readonly ageD: number | null;
  /** Days since admission; null when the admission is unknown. */
  readonly sinceAdmissionD: number | null;
  /** Stands for its day, is only shown, or is under suspicion of a slip. */
  readonly standing: "stands for the day" | "shown only" | "suspected slip";
  readonly why: Notice;
  /** Suggested correction when a slip is suspected; the raw value stays. */
  readonly slip: SuspectedSlip | null;
  /** What a person decided about it; `at` and `netG` are then as decided, `row` as written. */
  readonly decision?: DecisionRow;
}

export interface SuspectedSlip {
  readonly kind:
    | "times ten"
    | "tenth"
    | "thousand"
    | "thousandth"
    | "pounds for kilograms"
    | "pounds for grams"
    | "ounces for grams"
    | "digits swapped"
    | "digit dropped"
    | "animals swapped"
    | "days swapped"
    | "wrong day"
    | "tare forgotten"
    | "wet coat"
    | "unexplained";
  readonly suggestedG: number | null;
  /** z of the value against the running expectation by the animal's own noise, before and after the correction. */
  readonly zBefore: number;
  readonly zAfter: number | null;
  /** The other animal, for "animals swapped". */
  readonly otherAnimalId: string | null;
}

/** What was done to a feed that is far from the usual one. */
export type FeedSlipKind =
  | "digit left out"
  | "digit added"
  | "kilograms for grams"
  | "ounces for grams"
  | "pounds for grams"
  | "day's total"
  | "bottle not taken off"
  | "offered and refused exchanged"
  | "refusal beyond the offer"
  | "wrong animal"
  | "entered twice"
  | "unexplained";

export interface SuspectedFeedSlip {
  readonly kind: FeedSlipKind;
  /** What may have been offered, g; null where the slip does not tell. */
  readonly suggestedG: number | null;
  /** The usual feed of this diet around it, g; null where none is known. */
  readonly usualG: number | null;
  /** The feed as written, % of body mass; null where no mass is known. */
  readonly massPct: number | null;
  /** Bounds of what was eaten over everything that may have been meant. */
  readonly eatenLowG: number;
  readonly eatenHighG: number;
  /** The animal it may belong to, for "wrong animal". */
  readonly otherAnimalId: string | null;
  readonly why: Notice;
}

export interface DailyMass {
  readonly feedingDay: CivilDate;
  readonly at: Instant;
  readonly massG: number;
  readonly ageD: number | null;
  readonly sinceAdmissionD: number | null;
  /** Standard error of this value as the animal's usual-condition mass, g. */
  readonly errorG: number;
  /** Dry and before a meal. */
  readonly usualCondition: boolean;
  readonly nWeighings: number;
}

export interface SeriesFeed {
  readonly row: FeedRow;
  readonly at: Instant;
  readonly feedingDay: CivilDate;
  readonly offeredG: number;
  /** Eaten = offered - refused; null when the refusal is unknown or the feed is doubted. */
  readonly eatenG: number | null;
  /** Bounds of eaten: equal when known, 0..offered when not, over what may have been meant when doubted. */
  readonly eatenLowG: number;
  readonly eatenHighG: number;
  /** Diet composition with the batch's overrides applied; null when the diet is missing. */
  readonly composition:
    | (Composition & { readonly kind: "formula" | "solid" | "supplement" })
    | null;
  readonly densityGPerMl: number | null;
  readonly dietId: string | null;
  /** Hours between making the batch and this feed; null when unknown. */
  readonly batchAgeH: number | null;
  readonly useByH: number | null;
  /** Present where the feed looks like a slip of the pen and nobody has decided. */
  readonly slip?: SuspectedFeedSlip;
  /** What a person decided about it; amounts are then as decided, `row` as written. */
  readonly decision?: DecisionRow;
}

/** Feeding day by feeding day, the days on which the clock changed having 23 or 25 hours. */
export interface FeedingDay {
  readonly day: CivilDate;
  readonly from: Instant;
  readonly to: Instant;
  readonly hours: number;
}

/** The whole study as series: what `rates`, `growth`, `reference` and `flags` read. */
export interface StudySeries {
  readonly settings: StudySettings;
  readonly animals: readonly AnimalSeries[];
  readonly scaleChecks: readonly ScaleCheckRow[];
  readonly events: readonly EventRow[];
  /** Every batch of a known diet, as it was made, in order of time. */
  readonly batches: readonly KitchenBatch[];
  /** Lines of the table of plans that were set aside and name no animal of the study. */
  readonly ordersOfNobody?: readonly UnusedOrder[];
  /** What people answered to dangers and looks; absent where nobody did. */
  readonly answers?: readonly AnswerRow[];
  readonly notices: readonly Notice[];
}

/** Rows as `records` accepted them, for the rooms above that may not import `records`. */
export type {
  AnimalRow,
  AnswerRow,
  BatchRow,
  CivilDate,
  Composition,
  DecisionRow,
  DietRow,
  EventRow,
  FeedRow,
  Instant,
  MassBand,
  ObservationRow,
  OrderBounds,
  RowOrigin,
  ScaleCheckRow,
  StudySettings,
  WeighingRow,
} from "../records/study.js";
export type { DayOrder, OrderedFeed, UncountedLine } from "./orders/day-order.js";
export type { OrderedDiet, OrderLine } from "./orders/order-line.js";
export type { OrderInForce, OrderStep } from "./orders/order-steps.js";
export type { AnimalOrders, UnusedOrder } from "./orders/orders-of.js";
