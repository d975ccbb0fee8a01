import { solve } from "yalps";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { type EnergyChoice, energyOf } from "../rates/energy-of.js";
import type { Composition } from "../series/animal-series.js";
import { apportionGrams } from "./apportion-grams.js";

export interface MixIngredient {
  readonly name: string;
  readonly composition: Composition;
  /** Least and most of it, % of the mix. */
  readonly leastPct?: number;
  readonly mostPct?: number;
}

/** What the mix is to hold, as fed: kcal/g and % of mass. A single number is aimed at exactly. */
export interface MixTarget {
  readonly energyKcalPerG?: number | readonly [number | null, number | null];
  readonly proteinPct?: number | readonly [number | null, number | null];
  readonly fatPct?: number | readonly [number | null, number | null];
  readonly carbohydratePct?: number | readonly [number | null, number | null];
  readonly waterPct?: number | readonly [number | null, number | null];
}

export interface MixOptions {
  /** Mass of the batch, whole grams. */
  readonly batchG: number;
  readonly energy?: EnergyChoice;
}

export type MixProperty = keyof MixTarget;

export interface MixCheck {
  readonly property: MixProperty;
  readonly unit: string;
  readonly wanted: readonly [number | null, number | null];
  /** What the weighed-out mix holds. */
  readonly got: number;
  /** Within the wanted limits, whole grams allowed for. */
  readonly met: boolean;
}

export interface FormulaMix {
  readonly batchG: number;
  /** Whole grams of each ingredient, adding up to the batch exactly; none where the target is not met. */
  readonly ingredients: readonly {
    readonly name: string;
    readonly g: number;
    readonly pct: number;
  }[];
  readonly checks: readonly MixCheck[];
  readonly met: boolean;
  readonly waterPct: number | null;
  readonly kcalPerG: number | null;
}

const properties: Readonly<Record<MixProperty, { unit: string; part: keyof Composition | null }>> =
  {
    energyKcalPerG: { unit: "kcal/g", part: null },
    proteinPct: { unit: "%", part: "proteinPct" },
    fatPct: { unit: "%", part: "fatPct" },
    carbohydratePct: { unit: "%", part: "carbohydratePct" },
    waterPct: { unit: "%", part: "waterPct" },
  };

/**
 * How much of each ingredient makes a batch that meets targets of energy,
 * protein, fat, carbohydrate and water: a small linear programme that makes the
 * sum of the relative misses as small as it can be (goal programming), then whole
 * grams with an exact sum. A target that cannot be met gives no grams: what is
 * missed, and what the nearest mix would reach, is said in the checks.
 * Energy of a mix is the sum of its ingredients' energies.
 *
 * @throws UsageError without ingredients or targets, or with a batch that is not whole grams.
 * @example mixFormula([clam, cream, water], { energyKcalPerG: 1.06, fatPct: 7 }, { batchG: 500 }).value.met // true
 */
export function mixFormula(
  ingredients: readonly MixIngredient[],
  target: MixTarget,
  options: MixOptions,
): Result<"mix-formula", FormulaMix> {
  const energy = options.energy ?? "stated, else general";
  const wanted = Object.entries(target) as [MixProperty, NonNullable<MixTarget[MixProperty]>][];
  requireInput(ingredients, wanted.length, options.batchG);
  const notices: Notice[] = [];
  const usable = ingredients.filter((ing) => {
    const missing = wanted.map(([p]) => p).filter((p) => amountOf(ing, p, energy) === null);
    if (missing.length > 0) {
      notices.push(notice("mix-ingredient-unknown", "caution", { ingredient: ing.name, missing }));
    }
    return missing.length === 0;
  });
  const limits = wanted.map(([property, want]) => ({ property, want: asRange(want) }));
  const shares = usable.length === 0 ? null : solveShares(usable, limits, energy);
  if (shares === null) {
    notices.push(notice("mix-impossible", "problem", { ingredients: usable.map((i) => i.name) }));
  }
  const grams = shares === null ? [] : apportionGrams(options.batchG, shares);
  const of = (property: MixProperty): number | null => {
    let sum = 0;
    for (let i = 0; i < usable.length; i++) {
      const each = amountOf(usable[i]!, property, energy);
      if (each === null && grams[i]! > 0) return null;
      sum += ((each ?? 0) * grams[i]!) / options.batchG;
    }
    return grams.length === 0 ? null : sum;
  };
  const checks = limits.flatMap(({ property, want }): MixCheck[] => {
    const got = of(property);
    if (got === null) return [];
    const { unit } = properties[property];
    // Whole grams shift a property by at most half a gram of the richest ingredient each.
    const richest = Math.max(...usable.map((i) => amountOf(i, property, energy) ?? 0));
    const slack = (richest * usable.length * 0.5) / options.batchG + 1e-6 * Math.max(1, richest);
    const met =
      (want[0] === null || got >= want[0] - slack) && (want[1] === null || got <= want[1] + slack);
    if (!met) {
      const [low, high] = want;
      notices.push(notice("mix-not-met", "caution", { property, got, low, high, unit }));
    }
    return [{ property, unit, wanted: want, got, met }];
  });
  const met = shares !== null && checks.every((c) => c.met);
  return {
    kind: "mix-formula",
    schema: 1,
    value: {
      batchG: options.batchG,
      // Grams beside a target that they miss would be weighed out all the same.
      ingredients: met
        ? usable.map((ing, i) => ({
            name: ing.name,
            g: grams[i] ?? 0,
            pct: (100 * (grams[i] ?? 0)) / options.batchG,
          }))
        : [],
      checks,
      met,
      waterPct: of("waterPct"),
      kcalPerG: of("energyKcalPerG"),
    },
    method: {
      name: "Linear programme (simplex), least sum of relative misses",
      options: { batchG: options.batchG, energy, target },
      citations: [],
    },
    basis: {
      used: usable.length,
      leftOut:
        usable.length === ingredients.length
          ? []
          : [{ reason: "composition not known", count: ingredients.length - usable.length }],
      of: "ingredients",
    },
    diagnostics: {},
    notices: [...notices, notice("ration-review", "caution", {})],
  };
}

/** Shares of the mix, or null when the limits on ingredients contradict each other. */
function solveShares(
  ingredients: readonly MixIngredient[],
  limits: readonly { property: MixProperty; want: readonly [number | null, number | null] }[],
  energy: EnergyChoice,
): number[] | null {
  const constraints = new Map<string, { min?: number; max?: number; equal?: number }>();
  constraints.set("all", { equal: 1 });
  const variables = new Map<string, Map<string, number>>();
  ingredients.forEach((ing, i) => {
    const column = new Map<string, number>([["all", 1]]);
    for (const { property } of limits) column.set(property, amountOf(ing, property, energy)!);
    column.set(`share ${i}`, 1);
    constraints.set(`share ${i}`, {
      min: (ing.leastPct ?? 0) / 100,
      max: (ing.mostPct ?? 100) / 100,
    });
    variables.set(`x${i}`, column);
  });
  for (const { property, want } of limits) {
    // got + short - over lies within the limits; missing costs in proportion to what is wanted.
    constraints.set(property, {
      ...(want[0] === null ? {} : { min: want[0] }),
      ...(want[1] === null ? {} : { max: want[1] }),
    });
    const scale = Math.max(Math.abs(want[0] ?? 0), Math.abs(want[1] ?? 0), 1e-3);
    variables.set(
      `short ${property}`,
      new Map([
        [property, 1],
        ["miss", 1 / scale],
      ]),
    );
    variables.set(
      `over ${property}`,
      new Map([
        [property, -1],
        ["miss", 1 / scale],
      ]),
    );
  }
  const solution = solve(
    { direction: "minimize", objective: "miss", constraints, variables },
    { precision: 1e-10 },
  );
  if (solution.status !== "optimal") return null;
  const found = new Map(solution.variables);
  return ingredients.map((_, i) => Math.max(0, found.get(`x${i}`) ?? 0));
}

function amountOf(ing: MixIngredient, property: MixProperty, energy: EnergyChoice): number | null {
  const { part } = properties[property];
  if (part !== null) return ing.composition[part];
  // Plain water holds no energy; that is no mistake here.
  if (ing.composition.waterPct === 100) return 0;
  return energyOf(ing.composition, energy).kcalPerG.value;
}

function asRange(
  want: number | readonly [number | null, number | null],
): readonly [number | null, number | null] {
  return typeof want === "number" ? [want, want] : want;
}

function requireInput(
  ingredients: readonly MixIngredient[],
  targets: number,
  batchG: number,
): void {
  const came =
    ingredients.length === 0
      ? "no ingredient came"
      : targets === 0
        ? "no target came"
        : !(Number.isSafeInteger(batchG) && batchG > 0)
          ? `a batch of ${batchG} g came`
          : null;
  if (came === null) return;
  throw new UsageError({
    needed: "ingredients, at least one target, and a batch in whole grams",
    came,
    where: "mixFormula",
    todo: "Name the ingredients with their composition and what the mix is to hold.",
  });
}
