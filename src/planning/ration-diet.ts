import type { EnergyBasis, EnergyChoice } from "../rates/energy-of.js";
import { energyOf } from "../rates/energy-of.js";
import type { AnimalSeries, Composition, PlanRow, SeriesFeed } from "../series/animal-series.js";
import { dayMs } from "../units/day-ms.js";

/** A diet a ration can be made of; supplements are not planned here. */
export interface RationDiet {
  readonly dietId: string;
  readonly kind: "formula" | "solid";
  readonly composition: Composition;
  readonly densityGPerMl: number | null;
}

/** A diet with its energy worked out. */
export interface EnergyDiet extends RationDiet {
  readonly kcalPerG: number | null;
  readonly energyBasis: EnergyBasis;
}

export function withEnergy(diet: RationDiet, choice: EnergyChoice): EnergyDiet {
  const energy = energyOf(diet.composition, choice);
  return { ...diet, kcalPerG: energy.kcalPerG.value, energyBasis: energy.basis };
}

/** The formula and the solid an animal was last given, up to an instant. */
export function lastDiets(series: AnimalSeries, at: number): readonly RationDiet[] {
  const last = new Map<string, SeriesFeed>();
  for (const f of series.feeds) {
    if (f.at > at || f.composition === null || f.dietId === null) continue;
    // What was last given more than three days ago is no longer its diet.
    if (f.composition.kind !== "supplement" && at - f.at <= 3 * dayMs) {
      last.set(f.composition.kind, f);
    }
  }
  return (["formula", "solid"] as const).flatMap((kind) => {
    const f = last.get(kind);
    if (f?.composition == null || f.dietId === null) return [];
    return [{ dietId: f.dietId, kind, composition: f.composition, densityGPerMl: f.densityGPerMl }];
  });
}

/**
 * The diets of an ordered plan, as last given to this animal, and the share of
 * the plan's energy from solids; `null` when the plan's diets are not known.
 */
export function planDiets(
  series: AnimalSeries,
  plans: readonly PlanRow[],
  energy: EnergyChoice,
): { readonly diets: readonly RationDiet[]; readonly solidsEnergyPct: number } | null {
  const grams = new Map<string, number>();
  for (const p of plans) {
    if (p.dietId === null) return null;
    const feeds = p.feedTimes.length > 0 ? p.feedTimes.length : (p.feedsPerDay ?? 0);
    grams.set(p.dietId, (grams.get(p.dietId) ?? 0) + (p.gPerFeed ?? 0) * feeds);
  }
  const kcal = { formula: 0, solid: 0 };
  const diets: RationDiet[] = [];
  for (const [dietId, g] of grams) {
    const feed = series.feeds.filter((f) => f.dietId === dietId && f.composition !== null).at(-1);
    const composition = feed?.composition ?? null;
    if (feed === undefined || composition === null || composition.kind === "supplement")
      return null;
    const { kind } = composition;
    // One formula and one solid: a second of a kind cannot be dealt out here.
    if (diets.some((d) => d.kind === kind)) return null;
    const diet = { dietId, kind, composition, densityGPerMl: feed.densityGPerMl };
    const { kcalPerG } = withEnergy(diet, energy);
    if (kcalPerG === null) return null;
    kcal[kind] += g * kcalPerG;
    diets.push(diet);
  }
  const total = kcal.formula + kcal.solid;
  return total > 0 ? { diets, solidsEnergyPct: (100 * kcal.solid) / total } : null;
}
