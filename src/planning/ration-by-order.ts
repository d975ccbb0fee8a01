import { type Notice, notice } from "../core/notice.js";
import type { EnergyChoice } from "../rates/energy-of.js";
import type { AnimalSeries, DayOrder } from "../series/animal-series.js";
import { bandAt } from "../species/age-band.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import type { FeedingDaySpan } from "../units/calendar.js";
import { apportionGrams } from "./apportion-grams.js";
import { orderedTimes } from "./feed-schedule.js";
import { limitRation } from "./limit-ration.js";
import type { RationFeed, RationLimit } from "./ration.js";
import { type EnergyDiet, orderedDiet, type RationDiet, withEnergy } from "./ration-diet.js";
import { shareOfPct } from "./ration-mix.js";
import type { RationLimits, RationOptions } from "./ration-options.js";

/**
 * The diets of an order where a ration can keep its shape, feed by feed: nothing
 * about feeds, times or the share of solids is asked for otherwise, and every
 * diet has a name. Null where the ration must be dealt out anew.
 */
export function orderShape(
  series: AnimalSeries,
  ordered: DayOrder,
  options: RationOptions,
): readonly RationDiet[] | null {
  const { solidsEnergyPct, feedsPerDay, feedTimes, diets } = options;
  if (solidsEnergyPct !== undefined || feedsPerDay !== undefined || feedTimes !== undefined)
    return null;
  if (ordered.uncounted.length > 0 || ordered.feeds.length === 0) return null;
  const found = new Map<string, RationDiet>();
  for (const { line } of ordered.feeds) {
    if (line.dietId === null || found.has(line.dietId)) continue;
    const diet =
      diets === undefined
        ? orderedDiet(series, line)
        : (diets.find((d) => d.dietId === line.dietId) ?? null);
    if (diet === null && diets !== undefined) return null;
    if (diet !== null) found.set(line.dietId, diet);
  }
  return [...found.values()];
}

interface ByOrder {
  readonly animal: string;
  readonly scalePct: number;
  readonly massG: number;
  readonly recentOfferedG: number | null;
  readonly limits: RationLimits;
  readonly profile: SpeciesProfile;
  readonly ageD: number | null;
  readonly span: FeedingDaySpan;
  readonly zone: string;
  readonly energy: EnergyChoice;
}

export interface RationByOrder {
  readonly feeds: readonly RationFeed[];
  readonly diets: readonly EnergyDiet[];
  readonly limits: readonly RationLimit[];
  /** Every feed is the ordered one. */
  readonly asOrdered: boolean;
  readonly notices: readonly Notice[];
}

/**
 * The feeds of an order as ordered; scaled, each by the same share, in whole
 * grams that add up. Limits are told of an order and bind what goes beyond it.
 */
export function rationByOrder(
  shape: readonly RationDiet[],
  ordered: DayOrder,
  by: ByOrder,
): RationByOrder {
  const diets = shape.map((diet) => withEnergy(diet, by.energy));
  const dietOf = (dietId: string | null) => diets.find((d) => d.dietId === dietId);
  const orderedG = ordered.grams!;
  const hours = bandAt(by.profile.feedingRhythm, by.ageD)?.betweenHours ?? null;
  const times = orderedTimes(ordered, by.span, hours, by.zone);
  const waters = ordered.feeds.map(({ line }) => {
    const water = dietOf(line.dietId)?.composition.waterPct ?? null;
    return water === null ? null : line.gPerFeed! * shareOfPct(water)!;
  });
  const limited = limitRation({
    animal: by.animal,
    wantedG: (by.scalePct / 100) * orderedG,
    orderedG,
    massG: by.massG,
    recentOfferedG: by.recentOfferedG,
    waterPerG: waters.some((w) => w === null)
      ? null
      : waters.reduce<number>((sum, w) => sum + w!, 0) / orderedG,
    limits: by.limits,
    profile: by.profile,
    ageD: by.ageD,
    // The number of feeds is the order's.
    schedule: { times, from: "entered", mostFeeds: null },
    span: by.span,
    zone: by.zone,
  });
  const asOrdered = limited.grams === orderedG;
  const sizes = ordered.feeds.map(({ line }) => line.gPerFeed!);
  const grams = asOrdered ? sizes : apportionGrams(Math.round(limited.grams), sizes);
  const unknown = ordered.feeds.find(({ line }) => dietOf(line.dietId) === undefined);
  return {
    feeds: ordered.feeds.map(({ line, time }, i) => {
      const diet = dietOf(line.dietId);
      const density = diet?.densityGPerMl ?? null;
      return {
        at: times[i]!,
        time,
        dietId: line.dietId ?? "",
        kind: diet?.kind ?? "formula",
        g: grams[i]!,
        ml: density !== null && density > 0 ? grams[i]! / density : null,
      };
    }),
    diets,
    limits: limited.limits,
    asOrdered,
    notices: [
      ...limited.notices,
      ...(unknown === undefined
        ? []
        : [
            notice("ration-part-unknown", "caution", {
              diet: unknown.line.dietId ?? "a diet not named",
            }),
          ]),
    ],
  };
}
