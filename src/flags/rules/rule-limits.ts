/**
 * Limits of the rules that stand outside the budget of false flags. Common
 * practice or choices of this project, none of them a published threshold; every
 * one can be changed, and `null` turns a rule off. How often each rule names a
 * healthy animal at these limits is measured: see `measuredRuleRates`.
 */
export interface RuleLimits {
  /** Days without gain, by the slope of the daily mass. */
  readonly noGainDays: number | null;
  /** Fall from one weighing to the next within 2 days, % of mass: a danger from here on ... */
  readonly acuteLossPct: number | null;
  /** ... and to be looked at from here on. */
  readonly lossPct: number | null;
  /** Eaten on the last full day below this share of the plan, %. */
  readonly belowPlanPct: number | null;
  /** Eaten on the last full day above this share of the plan, %. */
  readonly abovePlanPct: number | null;
  /** Eaten on the last full day below this share of the animal's own habit, %. */
  readonly belowHabitPct: number | null;
  /** Eaten below this share of its habit on two full days in a row, and beyond its own variation, %. */
  readonly belowHabitTwoDaysPct: number | null;
  /** Refused on two full days in a row, % of what was offered ... */
  readonly refusedPct: number | null;
  /** ... and this much more than it usually refuses, percentage points, ... */
  readonly refusedAboveHabitPct: number;
  /** ... or from here on at once and whatever its habit, %. */
  readonly refusedAlwaysPct: number;
  /** So many feeds missing in a row are a danger; one is looked at. */
  readonly noFeedTimes: number | null;
  /** Looked at too: a gap between feeds longer than this multiple of the longest usual interval. */
  readonly feedGapTimes: number | null;
  /** A pause that the plan itself orders may be longer by this factor. */
  readonly feedGapPlanTimes: number;
  /** Gain per kcal over 14 days below this share of the contemporaries' median, %. */
  readonly conversionPct: number | null;
  /**
   * Degrees Celsius beyond the species range that are let pass: the range is of
   * true temperatures, a reading has the error of its thermometer.
   */
  readonly temperatureMarginC: number | null;
  /** Danger outside, °C, where the species profile gives no range. */
  readonly temperatureWithoutRangeC: readonly [number, number] | null;
  /** Hours without a recorded stool, and without recorded urine. */
  readonly stoolH: number | null;
  readonly urineH: number | null;
  /** Both are judged up to this age, days (older ones are seldom written down). */
  readonly excretionUnderD: number;
  /**
   * Where the records of other young have such gaps on more than this share of
   * days, %, they are not written regularly enough to be judged; `null` judges always.
   */
  readonly excretionGapsPct: number | null;
  /** Two scales on one animal within this many hours ... */
  readonly scalesWithinH: number;
  /** ... that differ by more than this many standard errors. */
  readonly scalesZ: number | null;
}

export const defaultRuleLimits: RuleLimits = {
  noGainDays: 7,
  acuteLossPct: 10,
  lossPct: 5,
  belowPlanPct: 60,
  abovePlanPct: 125,
  belowHabitPct: 70,
  belowHabitTwoDaysPct: 85,
  refusedPct: 30,
  refusedAboveHabitPct: 15,
  refusedAlwaysPct: 50,
  noFeedTimes: 3,
  feedGapTimes: 2,
  feedGapPlanTimes: 1.25,
  conversionPct: 40,
  temperatureMarginC: 0.2,
  temperatureWithoutRangeC: [35, 40.5],
  stoolH: 48,
  urineH: 48,
  excretionUnderD: 28,
  excretionGapsPct: 1,
  scalesWithinH: 3,
  scalesZ: 4,
};
