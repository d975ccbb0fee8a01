import { UsageError } from "../core/usage-error.js";

/** The power of mass that needs of energy go with (Kleiber 1947; common practice in nutrition). */
export const metabolicPower = 0.75;

/**
 * Resting energy requirement, kcal/d, of a mass in kg: 70 W^0.75. Source: Small
 * Animal Clinical Nutrition, 5th ed., table 5-2; Merck manual. A yardstick: a
 * sea otter young needs about five times as much.
 *
 * @example restingEnergy(5) // 234.0591
 */
export function restingEnergy(massKg: number): number {
  requirePositive("restingEnergy", "a mass above zero, in kg", massKg);
  return 70 * massKg ** metabolicPower;
}

/** Metabolic body size W^0.75, kg^0.75 (Kleiber). @example metabolicSize(3.5) // 2.558887 */
export function metabolicSize(massKg: number): number {
  requirePositive("metabolicSize", "a mass above zero, in kg", massKg);
  return massKg ** metabolicPower;
}

/**
 * Kleiber ratio: gain in g/d over W^0.75, W in kg. Source: Bergh 1992, after
 * Kleiber 1947 (from memory).
 *
 * @example kleiberRatio(50, 3.5) // 19.539749 g/d per kg^0.75
 */
export function kleiberRatio(gainGPerD: number, massKg: number): number {
  return gainGPerD / metabolicSize(massKg);
}

/**
 * Energy for a growing dog, kcal/d: 130 W^0.75 x 3.2 (exp(-0.87 p) - 0.1), p =
 * W / mature W. Source: NRC 2006. For comparison only: it is not made for
 * marine mammals.
 *
 * @example puppyGrowthEnergy(10, 20) // 1280.238
 */
export function puppyGrowthEnergy(massKg: number, matureMassKg: number): number {
  requirePositive("puppyGrowthEnergy", "a mature mass above zero, in kg", matureMassKg);
  const p = massKg / matureMassKg;
  return 130 * metabolicSize(massKg) * 3.2 * (Math.exp(-0.87 * p) - 0.1);
}

/** A food in % as fed, as the four-step prediction wants it. */
export interface ProximateAnalysis {
  readonly proteinPct: number;
  readonly fatPct: number;
  readonly crudeFibrePct: number;
  readonly ashPct: number;
  readonly waterPct: number;
}

export interface FourStepEnergy {
  readonly nitrogenFreeExtractPct: number;
  readonly grossKcalPer100g: number;
  readonly crudeFibreDryPct: number;
  readonly digestibilityPct: number;
  readonly digestibleKcalPer100g: number;
  readonly metabolisableKcalPer100g: number;
}

/**
 * Metabolisable energy predicted in four steps from the analysis: gross energy
 * 5.7 P + 9.4 F + 4.1 (NFE + CF); digestibility falling with fibre in the dry
 * matter; digestible energy; less the urinary loss per g of protein. Source:
 * NRC 2006, equations for dog and cat foods.
 *
 * @example fourStepEnergy({ proteinPct: 30, fatPct: 15, crudeFibrePct: 3, ashPct: 7, waterPct: 8 }, "dog").metabolisableKcalPer100g // 380.715913
 */
export function fourStepEnergy(food: ProximateAnalysis, animal: "dog" | "cat"): FourStepEnergy {
  const { proteinPct: p, fatPct: f, crudeFibrePct: cf, ashPct, waterPct } = food;
  requirePositive("fourStepEnergy", "dry matter above zero", 100 - waterPct);
  const nfe = 100 - p - f - cf - ashPct - waterPct;
  const gross = 5.7 * p + 9.4 * f + 4.1 * (nfe + cf);
  const fibreDry = dryMatterShare(cf, waterPct);
  const digestibility = animal === "dog" ? 91.2 - 1.43 * fibreDry : 87.9 - 0.88 * fibreDry;
  const digestible = (gross * digestibility) / 100;
  return {
    nitrogenFreeExtractPct: nfe,
    grossKcalPer100g: gross,
    crudeFibreDryPct: fibreDry,
    digestibilityPct: digestibility,
    digestibleKcalPer100g: digestible,
    metabolisableKcalPer100g: digestible - (animal === "dog" ? 1.04 : 0.77) * p,
  };
}

/**
 * A part as fed, %, turned into % of dry matter: x 100 / (100 - water).
 *
 * @example dryMatterShare(3, 8) // 3.260870
 */
export function dryMatterShare(asFedPct: number, waterPct: number): number {
  requirePositive("dryMatterShare", "water below 100 %", 100 - waterPct);
  return (asFedPct * 100) / (100 - waterPct);
}

/**
 * Grams of a part per 1000 kcal, from % as fed and kcal/g.
 *
 * @example gramsPer1000Kcal(11.8, 2.73) // 43.22
 */
export function gramsPer1000Kcal(asFedPct: number, kcalPerG: number): number {
  requirePositive("gramsPer1000Kcal", "an energy above zero, in kcal/g", kcalPerG);
  return (asFedPct * 10) / kcalPerG;
}

function requirePositive(where: string, needed: string, came: number): void {
  if (came > 0 && Number.isFinite(came)) return;
  throw new UsageError({
    needed,
    came: `${came} came`,
    where,
    todo: "Check the value and its unit.",
  });
}
