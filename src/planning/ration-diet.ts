import type { EnergyBasis, EnergyChoice } from "../rates/energy-of.js";
import { energyOf } from "../rates/energy-of.js";
import type {
  AnimalSeries,
  Composition,
  DayOrder,
  OrderLine,
  SeriesFeed,
} from "../series/animal-series.js";
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

/** An ordered diet as last given to this animal, else as the table of diets has it. */
export function orderedDiet(series: AnimalSeries, line: OrderLine): RationDiet | null {
  const fed = series.feeds.filter((f) => f.dietId === line.dietId && f.composition !== null).at(-1);
  const composition = fed?.composition ?? line.diet?.composition ?? null;
  const kind = fed?.composition?.kind ?? line.diet?.kind ?? null;
  if (line.dietId === null || composition === null || kind === null || kind === "supplement")
    return null;
  const densityGPerMl = fed?.densityGPerMl ?? line.diet?.densityGPerMl ?? null;
  return { dietId: line.dietId, kind, composition, densityGPerMl };
}

/**
 * The diets of an order and the share of its energy from solids, for a ration
 * that departs from it; `null` where that cannot be said, or where two of a kind
 * are ordered, which no share describes.
 */
export function orderedMix(
  series: AnimalSeries,
  ordered: DayOrder,
  energy: EnergyChoice,
): { readonly diets: readonly RationDiet[]; readonly solidsEnergyPct: number } | null {
  const kcal = { formula: 0, solid: 0 };
  const diets: RationDiet[] = [];
  for (const { line } of ordered.feeds) {
    let diet = diets.find((d) => d.dietId === line.dietId);
    if (diet === undefined) {
      const found = orderedDiet(series, line);
      if (found === null || diets.some((d) => d.kind === found.kind)) return null;
      diets.push(found);
      diet = found;
    }
    const { kcalPerG } = withEnergy(diet, energy);
    if (kcalPerG === null || line.gPerFeed === null) return null;
    kcal[diet.kind] += line.gPerFeed * kcalPerG;
  }
  const total = kcal.formula + kcal.solid;
  return total > 0 ? { diets, solidsEnergyPct: (100 * kcal.solid) / total } : null;
}
