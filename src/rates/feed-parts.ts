import type { Notice } from "../core/notice.js";
import type { SeriesFeed } from "../series/animal-series.js";
import {
  type EnergyBasis,
  type EnergyChoice,
  energyOf,
  impossibleComposition,
} from "./energy-of.js";

/** What one gram of a feed holds; `null` where not known. */
export interface FeedParts {
  readonly kcalPerG: number | null;
  readonly energyBasis: EnergyBasis | null;
  readonly dryMatterPerG: number | null;
  readonly waterPerG: number | null;
  readonly proteinPerG: number | null;
  readonly fatPerG: number | null;
  readonly mlPerG: number | null;
  readonly kind: "formula" | "solid" | "supplement" | null;
  readonly notices: readonly Notice[];
}

const unknownParts: FeedParts = {
  kcalPerG: null,
  energyBasis: null,
  dryMatterPerG: null,
  waterPerG: null,
  proteinPerG: null,
  fatPerG: null,
  mlPerG: null,
  kind: null,
  notices: [],
};

/**
 * A reader of what a gram of a feed holds, which remembers diets and batches it
 * has seen: thousands of feeds share a handful of them.
 */
export function feedPartsReader(energy: EnergyChoice): (feed: SeriesFeed) => FeedParts {
  const seen = new Map<string | null, Map<string | null, FeedParts>>();
  return (feed) => {
    const { composition, densityGPerMl } = feed;
    if (composition === null) return unknownParts;
    let ofDiet = seen.get(feed.dietId);
    if (ofDiet === undefined) seen.set(feed.dietId, (ofDiet = new Map()));
    let parts = ofDiet.get(feed.row.batchId);
    if (parts === undefined) {
      parts = readParts(composition, densityGPerMl, energy);
      ofDiet.set(feed.row.batchId, parts);
    }
    return parts;
  };
}

function readParts(
  composition: NonNullable<SeriesFeed["composition"]>,
  density: number | null,
  choice: EnergyChoice,
): FeedParts {
  const energy = energyOf(composition, choice);
  const wrong = impossibleComposition(composition);
  const share = (pct: number | null) => (pct === null || wrong !== null ? null : pct / 100);
  const water = share(composition.waterPct);
  return {
    kcalPerG: energy.kcalPerG.value,
    energyBasis: energy.kcalPerG.value === null ? null : energy.basis,
    dryMatterPerG: water === null ? null : 1 - water,
    waterPerG: water,
    proteinPerG: share(composition.proteinPct),
    fatPerG: share(composition.fatPct),
    mlPerG: density !== null && density > 0 ? 1 / density : null,
    kind: composition.kind,
    notices:
      wrong === null || energy.notices.some((n) => n.code === wrong.code)
        ? energy.notices
        : [...energy.notices, wrong],
  };
}
