import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Composition } from "../series/animal-series.js";

/**
 * How metabolisable energy comes from a composition: the value stated on the
 * diet, or factors in kcal per g of protein, fat and carbohydrate.
 */
export type EnergyBasis = "stated" | "general" | "modified" | "fish and shellfish";

/** `"stated, else general"` takes the stated value where there is one. */
export type EnergyChoice = EnergyBasis | "stated, else general" | "stated, else modified";

export interface FoodEnergy {
  /** Metabolisable energy as fed, kcal/g. */
  readonly kcalPerG: Measured;
  readonly basis: EnergyBasis;
  /** kcal per g of protein, fat, carbohydrate; null when the energy was stated. */
  readonly factors: readonly [number, number, number] | null;
  /** Carbohydrate used, % as fed, and where it came from. */
  readonly carbohydratePct: number | null;
  readonly carbohydrateFrom: "given" | "by difference" | "not known" | "not needed";
  readonly notices: readonly Notice[];
}

/**
 * Factors: general 4/9/4 (Atwater; suited to milk, milk replacers and highly
 * digestible food, NRC 2006); modified 3.5/8.5/3.5 (AAFCO model regulation, as
 * in 355 IAC 6-2-9); fish and shellfish 4.27/9.02/4.11 (USDA Handbook 74, from
 * memory; reproduces the USDA energies of herring, squid and clam).
 */
export const energyFactors: Readonly<
  Record<Exclude<EnergyBasis, "stated">, readonly [number, number, number]>
> = {
  general: [4, 9, 4],
  modified: [3.5, 8.5, 3.5],
  "fish and shellfish": [4.27, 9.02, 4.11],
};

/** Most energy a food can hold: pure fat. */
const mostKcalPerG = 9.5;

/**
 * Metabolisable energy of a food as fed. Carbohydrate that is not given is
 * found by difference, 100 - (protein + fat + fibre + water + ash), where water
 * and ash are known (a blank fibre counts as none); a difference below zero
 * counts as zero. Where it cannot be found it counts as zero and a notice says
 * how much energy may be missing. A composition that cannot be (negative parts,
 * a sum over 105 %, no energy) gives no energy, with the reason.
 *
 * @example energyOf(seaOtterMilk, "general").kcalPerG.value // 2.732 kcal/g
 */
export function energyOf(
  composition: Composition,
  choice: EnergyChoice = "stated, else general",
): FoodEnergy {
  const stated = composition.energyKcalPerG;
  const wantsStated = choice.startsWith("stated");
  if (wantsStated && (stated !== null || choice === "stated")) return statedEnergy(stated);
  const basis: Exclude<EnergyBasis, "stated"> =
    choice === "stated, else general" || choice === "stated"
      ? "general"
      : choice === "stated, else modified"
        ? "modified"
        : choice;
  const factors = energyFactors[basis];
  const without = (why: Notice): FoodEnergy => ({
    kcalPerG: notDefined("kcal/g", why),
    basis,
    factors,
    carbohydratePct: null,
    carbohydrateFrom: "not known",
    notices: [why],
  });
  const wrong = impossibleComposition(composition);
  if (wrong !== null) return without(wrong);
  const { proteinPct, fatPct } = composition;
  if (proteinPct === null || fatPct === null) {
    const missing = proteinPct === null ? (fatPct === null ? "protein and fat" : "protein") : "fat";
    return without(notice("energy-part-missing", "caution", { missing }));
  }
  const { pct, from, atMost } = carbohydrateOf(composition, proteinPct + fatPct);
  const kcal = (factors[0] * proteinPct + factors[1] * fatPct + factors[2] * pct) / 100;
  if (!(kcal > 0)) return without(notice("energy-not-positive", "problem", { kcal }));
  const notices =
    from === "not known"
      ? [
          notice("energy-carbohydrate-unknown", "caution", {
            missing: (factors[2] * atMost) / 100,
          }),
        ]
      : [];
  return {
    kcalPerG: measured(kcal, "kcal/g"),
    basis,
    factors,
    carbohydratePct: from === "not known" ? null : pct,
    carbohydrateFrom: from,
    notices,
  };
}

/** What makes a composition impossible, or null. Blank parts are not wrong. */
export function impossibleComposition(c: Composition): Notice | null {
  const parts: readonly (readonly [string, number | null])[] = [
    ["water", c.waterPct],
    ["protein", c.proteinPct],
    ["fat", c.fatPct],
    ["carbohydrate", c.carbohydratePct],
    ["fibre", c.fibrePct],
    ["ash", c.ashPct],
  ];
  let sum = 0;
  let given = 0;
  for (const [part, pct] of parts) {
    if (pct === null) continue;
    if (!(pct >= 0 && pct <= 100)) {
      return notice("composition-part-impossible", "problem", { part, pct });
    }
    sum += pct;
    given++;
  }
  if (given > 0 && sum === 0) return notice("composition-sum-zero", "problem", {});
  // Separate assays of one food add up to 104 % in published tables; 105 % is a mistake.
  return sum > 105 ? notice("composition-sum-too-high", "problem", { sum }) : null;
}

function statedEnergy(stated: number | null): FoodEnergy {
  const why =
    stated === null
      ? notice("energy-not-stated", "caution", {})
      : !(stated > 0)
        ? notice("energy-not-positive", "problem", { kcal: stated })
        : stated > mostKcalPerG
          ? notice("energy-above-fat", "problem", { kcal: stated, most: mostKcalPerG })
          : null;
  return {
    kcalPerG: why === null ? measured(stated!, "kcal/g") : notDefined("kcal/g", why),
    basis: "stated",
    factors: null,
    carbohydratePct: null,
    carbohydrateFrom: "not needed",
    notices: why === null ? [] : [why],
  };
}

function carbohydrateOf(
  c: Composition,
  proteinAndFat: number,
): { pct: number; from: FoodEnergy["carbohydrateFrom"]; atMost: number } {
  if (c.carbohydratePct !== null) {
    return { pct: c.carbohydratePct, from: "given", atMost: c.carbohydratePct };
  }
  const rest = 100 - proteinAndFat - (c.fibrePct ?? 0) - (c.waterPct ?? 0) - (c.ashPct ?? 0);
  const atMost = Math.max(0, rest);
  if (c.waterPct !== null && (c.ashPct !== null || atMost === 0)) {
    return { pct: atMost, from: "by difference", atMost };
  }
  return { pct: 0, from: "not known", atMost };
}
