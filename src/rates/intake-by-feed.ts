import type { Result } from "../core/result.js";
import type { AnimalSeries, CivilDate } from "../series/animal-series.js";
import { type Bounds, scaleBounds } from "./bounds.js";
import type { EnergyBasis, EnergyChoice } from "./energy-of.js";
import { feedPartsReader } from "./feed-parts.js";
import { usableFeeds } from "./usable-feeds.js";

export interface IntakeFeed {
  readonly at: number;
  readonly feedingDay: CivilDate;
  readonly dietId: string | null;
  readonly batchId: string | null;
  readonly route: string | null;
  readonly offeredG: number;
  readonly eatenG: Bounds;
  readonly refusedG: Bounds;
  /** What was eaten held; null where the diet or that part of it is not known. */
  readonly kcal: Bounds | null;
  readonly energyBasis: EnergyBasis | null;
  readonly dryMatterG: Bounds | null;
  readonly proteinG: Bounds | null;
  readonly fatG: Bounds | null;
  readonly waterMl: Bounds | null;
  readonly volumeMl: Bounds | null;
  readonly batchAgeH: number | null;
}

/**
 * Intake feed by feed: offered, eaten, refused, route, and what was in it.
 *
 * @example intakeByFeed(otter).value[0] // { offeredG: 62, eatenG: { value: 34, ... }, kcal: { value: 36, ... }, ... }
 */
export function intakeByFeed(
  series: AnimalSeries,
  options: { readonly energy?: EnergyChoice } = {},
): Result<"intake-by-feed", readonly IntakeFeed[]> {
  const energy = options.energy ?? "stated, else general";
  const usable = usableFeeds(series);
  const read = feedPartsReader(energy);
  const value = usable.feeds.map(({ feed, at, eatenG }): IntakeFeed => {
    const parts = read(feed);
    const of = (perG: number | null) => (perG === null ? null : scaleBounds(eatenG, perG));
    const high = eatenG.high ?? feed.offeredG;
    const low = Math.max(0, feed.offeredG - high);
    const most = Math.max(0, feed.offeredG - eatenG.low);
    return {
      at,
      feedingDay: feed.feedingDay,
      dietId: feed.dietId,
      batchId: feed.row.batchId,
      route: feed.row.route,
      offeredG: feed.offeredG,
      eatenG,
      refusedG: { low, high: most, value: low === most ? low : null },
      kcal: of(parts.kcalPerG),
      energyBasis: parts.energyBasis,
      dryMatterG: of(parts.dryMatterPerG),
      proteinG: of(parts.proteinPerG),
      fatG: of(parts.fatPerG),
      waterMl: of(parts.waterPerG),
      volumeMl: of(parts.mlPerG),
      batchAgeH: feed.batchAgeH,
    };
  });
  return {
    kind: "intake-by-feed",
    schema: 1,
    value,
    method: { name: "Eaten per feed", options: { energy }, citations: [] },
    basis: { used: value.length, leftOut: usable.leftOut, of: "feeds" },
    diagnostics: {},
    notices: usable.notices,
  };
}
