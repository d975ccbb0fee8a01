import { energyOf } from "../rates/energy-of.js";
import type { Composition, DietRow } from "../records/study.js";
import type { AnimalAnalysis } from "./study-analysis.js";

/** One diet as it was fed to a species: how much of it, and what was in it. */
export interface DietFed {
  readonly species: string;
  readonly dietId: string;
  /** Null where the table of diets has no name for it. */
  readonly name: string | null;
  readonly kind: "formula" | "solid" | "supplement" | null;
  readonly animals: number;
  /** Eaten, g: the middle where a refusal was left blank. */
  readonly eatenG: number;
  /** Share of all grams eaten by the species, %. */
  readonly sharePct: number;
  /** Means over what was eaten, batch by batch, as fed; null where none of it is known. */
  readonly waterPct: number | null;
  readonly proteinPct: number | null;
  readonly fatPct: number | null;
  readonly carbohydratePct: number | null;
  readonly ashPct: number | null;
  readonly kcalPerG: number | null;
}

const parts = ["waterPct", "proteinPct", "fatPct", "carbohydratePct", "ashPct"] as const;

/**
 * What was fed, and what was in it: every diet of every species, the one eaten
 * most first. Composition is that of the batches as they were mixed, weighed by
 * the grams eaten of each.
 *
 * @example dietsFed(analysis.animals, study.tables.diets)[0].kcalPerG // 1.06
 */
export function dietsFed(
  animals: readonly Pick<AnimalAnalysis, "animalId" | "species" | "series">[],
  diets: readonly Pick<DietRow, "dietId" | "name" | "kind">[],
): readonly DietFed[] {
  const known = new Map(diets.map((d) => [d.dietId, d]));
  return [...new Set(animals.map((a) => a.species))].sort().flatMap((species) => {
    const sums = new Map<string, Sums>();
    let all = 0;
    for (const { animalId, series } of animals.filter((a) => a.species === species))
      for (const feed of series.feeds) {
        if (feed.dietId === null) continue;
        const grams = (feed.eatenLowG + feed.eatenHighG) / 2;
        const own = sums.get(feed.dietId) ?? noSums();
        sums.set(feed.dietId, own);
        add(own, animalId, grams, feed.composition);
        all += grams;
      }
    return [...sums]
      .map(([dietId, own]): DietFed => {
        const mean = ([sum, of]: Mean) => (of > 0 ? sum / of : null);
        return {
          species,
          dietId,
          name: known.get(dietId)?.name ?? null,
          kind: known.get(dietId)?.kind ?? null,
          animals: own.animals.size,
          eatenG: own.grams,
          sharePct: all > 0 ? (100 * own.grams) / all : 0,
          waterPct: mean(own.means.waterPct),
          proteinPct: mean(own.means.proteinPct),
          fatPct: mean(own.means.fatPct),
          carbohydratePct: mean(own.means.carbohydratePct),
          ashPct: mean(own.means.ashPct),
          kcalPerG: mean(own.means.kcalPerG),
        };
      })
      .sort((a, b) => b.eatenG - a.eatenG || (a.dietId < b.dietId ? -1 : 1));
  });
}

/** A sum of values times grams, and the grams behind it. */
type Mean = [sum: number, of: number];

interface Sums {
  grams: number;
  readonly animals: Set<string>;
  readonly means: Record<(typeof parts)[number] | "kcalPerG", Mean>;
}

const noSums = (): Sums => ({
  grams: 0,
  animals: new Set(),
  means: {
    waterPct: [0, 0],
    proteinPct: [0, 0],
    fatPct: [0, 0],
    carbohydratePct: [0, 0],
    ashPct: [0, 0],
    kcalPerG: [0, 0],
  },
});

function add(own: Sums, animalId: string, grams: number, composition: Composition | null): void {
  own.grams += grams;
  own.animals.add(animalId);
  if (composition === null) return;
  const put = (mean: Mean, value: number | null) => {
    if (value === null) return;
    mean[0] += grams * value;
    mean[1] += grams;
  };
  for (const part of parts) put(own.means[part], composition[part]);
  put(own.means.kcalPerG, energyOf(composition).kcalPerG.value);
}
