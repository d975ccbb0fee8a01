import { type Measured, measured } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import { bandAt } from "../species/age-band.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import type { FeedingDaySpan } from "../units/calendar.js";
import { type FeedSchedule, spread } from "./feed-schedule.js";
import type { RationLimit } from "./ration.js";
import type { RationLimits } from "./ration-options.js";

interface LimitInput {
  readonly animal: string;
  readonly wantedG: number;
  /** Set when a plan was ordered: its grams. */
  readonly orderedG: number | null;
  readonly massG: number;
  readonly recentOfferedG: number | null;
  readonly waterPerG: number | null;
  readonly limits: RationLimits;
  readonly profile: SpeciesProfile;
  readonly ageD: number | null;
  readonly schedule: FeedSchedule;
  readonly span: FeedingDaySpan;
  readonly zone: string;
}

export interface LimitedRation {
  readonly grams: number;
  readonly times: readonly number[];
  readonly mostPerFeed: number | null;
  readonly limits: readonly RationLimit[];
  readonly notices: readonly Notice[];
}

/**
 * Brings the day's grams under the limits: rise from day to day, water, size of
 * a feed (more, smaller feeds first, as far as the rhythm of the species allows).
 * A plan is shown as ordered, and that it goes beyond a limit is said; what was
 * asked for on top of an order is cut to the limit, but not below the order.
 */
export function limitRation(input: LimitInput): LimitedRation {
  const { animal, orderedG, profile, limits: own, massG } = input;
  const asOrdered = orderedG !== null && input.wantedG === orderedG;
  const notices: Notice[] = [];
  const limits: RationLimit[] = [];
  let grams = input.wantedG;
  const bind = (
    limit: RationLimit["limit"],
    value: Measured,
    most: number,
    code: "ration-rise-limited" | "ration-water-limited" | "ration-feed-limited",
  ) => {
    const over = grams > most;
    // Half a per cent over an order is rounding, not news.
    if (over && asOrdered && grams <= 1.005 * most) {
      limits.push({ limit, value, binds: false });
      return;
    }
    if (over && asOrdered) {
      const parameters = { animal, limit, wanted: grams, most };
      notices.push(notice("ration-plan-over-limit", "caution", parameters));
    } else if (over) {
      const cut = orderedG === null ? most : Math.max(most, Math.min(grams, orderedG));
      const parameters = { animal, wanted: grams, most: cut, value: value.value };
      notices.push(notice(code, "caution", parameters));
      grams = cut;
    }
    limits.push({ limit, value, binds: over && !asOrdered });
  };

  const risePct = own.risePct === undefined ? 10 : own.risePct;
  if (risePct !== null && input.recentOfferedG !== null && input.recentOfferedG > 0) {
    const most = input.recentOfferedG * (1 + risePct / 100);
    bind("rise from day to day", measured(risePct, "%"), most, "ration-rise-limited");
  } else if (risePct !== null) {
    notices.push(notice("ration-rise-not-judged", "caution", { animal }));
  }

  const water = own.waterMlPerKg;
  if (water !== undefined && input.waterPerG !== null && input.waterPerG > 0) {
    const most = (water * massG) / 1000 / input.waterPerG;
    bind("water", measured(water, "mL/kg/d"), most, "ration-water-limited");
  }

  let times = input.schedule.times;
  const feedPct = own.feedPctOfMass ?? profile.feedLimit?.value;
  if (feedPct === undefined) {
    notices.push(notice("ration-no-feed-limit", "info", { species: profile.species }));
    return { grams, times, mostPerFeed: null, limits, notices };
  }
  const perFeed = Math.floor((feedPct / 100) * massG + 1e-6);
  const needed = Math.ceil(grams / Math.max(1, perFeed));
  if (needed > times.length && input.schedule.from !== "entered") {
    const n = Math.min(needed, Math.max(times.length, input.schedule.mostFeeds ?? times.length));
    if (n > times.length) {
      notices.push(notice("ration-more-feeds", "info", { animal, from: times.length, to: n }));
      const hours = bandAt(profile.feedingRhythm, input.ageD)?.betweenHours ?? null;
      times = spread(n, input.span, hours, input.zone);
    }
  }
  const value = measured(feedPct, "% of body mass");
  bind("share of body mass per feed", value, perFeed * times.length, "ration-feed-limited");
  return { grams, times, mostPerFeed: asOrdered ? null : perFeed, limits, notices };
}
