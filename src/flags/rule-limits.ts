/**
 * Limits of the rules that stand outside the budget of false flags. Common
 * practice or choices of this project, none of them a published threshold; every
 * one can be changed, and `null` turns a rule off.
 */
export interface RuleLimits {
  /** Days without gain, by the slope of the daily mass. */
  readonly noGainDays: number | null;
  /** Fall from one weighed day to the next, % of mass, within 2 days. */
  readonly acuteLossPct: number | null;
  /** Eaten on the last full day below this share of the plan, %. */
  readonly belowPlanPct: number | null;
  /** Eaten on the last full day above this share of the plan, %. */
  readonly abovePlanPct: number | null;
  /** Eaten on the last full day below this share of the animal's own last 7 days, %. */
  readonly belowHabitPct: number | null;
  /** Refused on the last full day, % of what was offered. */
  readonly refusedPct: number | null;
  /** Longest gap between feeds, as a multiple of the longest usual interval. */
  readonly feedGapTimes: number | null;
  /** Gain per kcal over 14 days below this share of the contemporaries' median, %. */
  readonly conversionPct: number | null;
  /** Degrees Celsius beyond the species range that are let pass. */
  readonly temperatureMarginC: number | null;
  /** Hours without a recorded stool, and without recorded urine. */
  readonly stoolH: number | null;
  readonly urineH: number | null;
  /** Both are judged up to this age, days (older ones are seldom written down). */
  readonly excretionUnderD: number;
  /** Two scales on one animal within this many hours ... */
  readonly scalesWithinH: number;
  /** ... that differ by more than this many standard errors. */
  readonly scalesZ: number | null;
}

export const defaultRuleLimits: RuleLimits = {
  noGainDays: 7,
  acuteLossPct: 7,
  belowPlanPct: 60,
  abovePlanPct: 125,
  belowHabitPct: 70,
  refusedPct: 30,
  feedGapTimes: 2,
  conversionPct: 40,
  temperatureMarginC: 0,
  stoolH: 48,
  urineH: 48,
  excretionUnderD: 28,
  scalesWithinH: 3,
  scalesZ: 4,
};
