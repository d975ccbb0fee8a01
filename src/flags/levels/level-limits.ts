import { defaultSignLimits, type SignLimits } from "../../rates/sign-limits.js";
import { defaultOrderBounds } from "../../series/orders/order-bounds.js";
import { defaultRuleLimits, type RuleLimits } from "../rules/rule-limits.js";

/**
 * Every limit by which an animal is judged, in one set: those of signs and of rules,
 * and those that only a level has. Common practice or choices of this project where
 * no source is named; the attending veterinarian sets them in study.json
 * ("watch_limits"); `null` switches one off.
 */
export interface LevelLimits extends RuleLimits, SignLimits {
  /** A temperature of the very young is old after so many hours ... */
  readonly temperatureH: number | null;
  /** ... or, where it is taken regularly, this many times its own interval, up to ... */
  readonly oldAfterIntervals: number;
  readonly temperatureMostH: number;
  /** A weighing is old after so many hours, or the same number of its own intervals, up to ... */
  readonly weighingH: number | null;
  readonly weighingMostH: number;
  /** Loss: looked at and danger from so many % of mass, within a fast or a moult of its beginning. */
  readonly fastLossPct: readonly [number, number] | null;
  /** A feed given above this share of body mass, %, forbids the next one; held by `orderBoundsOf`. */
  readonly feedPctOfMass: number | null;
  /** Silence of the very young: so many feed intervals, at most so many hours. */
  readonly silentFeeds: number | null;
  readonly silentYoungH: number;
  /** Silence of others: so many median gaps of their last week, at most so many hours. */
  readonly silentGaps: number;
  readonly silentH: number;
  /** Hours after admission in which an animal without an order is asked about. */
  readonly newcomerH: number;
  /** Written "none" of urine over so many hours, without any between, is a danger at every age. */
  readonly urineNoneH: number | null;
}

export const defaultLevelLimits: LevelLimits = {
  ...defaultRuleLimits,
  ...defaultSignLimits,
  temperatureH: 12,
  oldAfterIntervals: 1.25,
  temperatureMostH: 36,
  weighingH: 36,
  weighingMostH: 8 * 24,
  fastLossPct: [20, 30],
  feedPctOfMass: defaultOrderBounds.feedPctOfMass,
  silentFeeds: 2,
  silentYoungH: 6,
  silentGaps: 2,
  silentH: 12,
  newcomerH: 72,
  urineNoneH: 24,
};
