import type { Result } from "../core/result.js";
import type { AnimalSeries } from "../series/animal-series.js";
import { planRation } from "./plan-ration.js";
import type { Ration } from "./ration.js";
import type { RationDiet } from "./ration-diet.js";
import type { RationOptions } from "./ration-options.js";

/** A change to look at beside the ration as it stands. */
export interface RationScenario {
  readonly name: string;
  readonly change: Partial<Omit<RationOptions, "settings" | "at">>;
  /** Makes the formula richer (or leaner): its energy x (100 + this) / 100. */
  readonly formulaEnergyPct?: number;
}

export interface ComparedRation {
  readonly name: string;
  readonly ration: Ration;
  /** Against the first: g and kcal, null where either is not given. */
  readonly moreG: number | null;
  readonly moreKcal: number | null;
}

/** The usual three, for want of others. */
export const usualScenarios: readonly RationScenario[] = [
  { name: "10 % more", change: { scalePct: 110 } },
  { name: "formula 15 % richer, same grams", change: {}, formulaEnergyPct: 15 },
  { name: "30 % of the energy of a ration from solids", change: { solidsEnergyPct: 30 } },
];

/**
 * Rations side by side: as it stands, and under each scenario, with the same
 * hold rules and limits. While the animal is on hold every one of them is.
 *
 * @example compareRations(series, options, usualScenarios).value[1]?.moreG // 61
 */
export function compareRations(
  series: AnimalSeries,
  options: RationOptions,
  scenarios: readonly RationScenario[] = usualScenarios,
): Result<"compare-rations", readonly ComparedRation[]> {
  const first = planRation(series, options).value;
  const more = (a: number | null, b: number | null) => (a === null || b === null ? null : a - b);
  const compared = scenarios.map((s): ComparedRation => {
    const diets = s.change.diets ?? options.diets ?? first.diets;
    const changed: RationOptions = {
      ...options,
      ...s.change,
      ...(s.formulaEnergyPct === undefined || diets.length === 0
        ? {}
        : { diets: diets.map((d) => richer(d, s.formulaEnergyPct!)) }),
    };
    const ration = planRation(series, changed).value;
    return {
      name: s.name,
      ration,
      moreG: more(ration.totalG, first.totalG),
      moreKcal: more(ration.kcal.value, first.kcal.value),
    };
  });
  return {
    kind: "compare-rations",
    schema: 1,
    value: [{ name: "as it stands", ration: first, moreG: 0, moreKcal: 0 }, ...compared],
    method: {
      name: "Rations under scenarios",
      options: { scenarios: scenarios.map((s) => s.name), at: options.at },
      citations: [],
    },
    basis: { used: scenarios.length + 1, leftOut: [], of: "rations" },
    diagnostics: {},
    notices: first.notices,
  };
}

/** A formula of the same water with its energy scaled: stated, and its parts with it. */
function richer(diet: RationDiet, pct: number): RationDiet {
  if (diet.kind !== "formula") return diet;
  const f = 1 + pct / 100;
  const c = diet.composition;
  const times = (x: number | null) => (x === null ? null : x * f);
  return {
    ...diet,
    composition: {
      ...c,
      proteinPct: times(c.proteinPct),
      fatPct: times(c.fatPct),
      carbohydratePct: times(c.carbohydratePct),
      energyKcalPerG: times(c.energyKcalPerG),
      // What the richer parts take up is missing from the water.
      waterPct:
        c.waterPct === null
          ? null
          : Math.max(
              0,
              c.waterPct -
                (f - 1) * ((c.proteinPct ?? 0) + (c.fatPct ?? 0) + (c.carbohydratePct ?? 0)),
            ),
    },
  };
}
