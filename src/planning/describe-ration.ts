import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { metabolicPower } from "../rates/nutrition-formulas.js";
import { orderBoundsOf } from "../series/orders/order-bounds.js";
import { animalOrder } from "./animal-order.js";
import { orderDoubts } from "./order-doubts.js";
import type { Ration, RationFeed, RationLimit } from "./ration.js";
import type { EnergyDiet } from "./ration-diet.js";
import type { RationGround } from "./ration-ground.js";
import { energyAsked } from "./ration-ground.js";
import { partsOf, shareOfPct } from "./ration-mix.js";
import { warnBelowDemand, warnImplausibleMass, warnOutsideShare } from "./ration-warnings.js";
import type { NoRation } from "./why-no-ration.js";

/** The feeds of a day and what they were made by. */
export interface MadeRation {
  readonly feeds: readonly RationFeed[];
  readonly diets: readonly EnergyDiet[];
  readonly limits: readonly RationLimit[];
  readonly asOrdered: boolean;
  readonly notices: readonly Notice[];
}

const review = () => notice("ration-review", "caution", {});

/** A ration without grams: what is ordered, and why nothing is suggested. */
export function noRation(
  ground: RationGround,
  status: NoRation["status"],
  notices: readonly Notice[],
): Result<"plan-ration", Ration> {
  const none = (unit: string) => notDefined(unit, review());
  return resultOf(ground, {
    ...groundOf(ground),
    status,
    asOrdered: false,
    feeds: [],
    parts: [],
    diets: [],
    totalG: null,
    kcal: none("kcal/d"),
    shareOfMassPct: none("% of body mass/d"),
    kcalPerMetabolicKg: none("kcal/kg^0.75/d"),
    waterMlPerKg: none("mL/kg/d"),
    proteinG: none("g/d"),
    fatG: none("g/d"),
    // An amount beside a hold could be read as a ration.
    ...(status === "hold" ? { recentEatenG: none("g/d"), recentOfferedG: none("g/d") } : {}),
    changePct: null,
    limits: [],
    notices: [...notices, review()],
  });
}

/** A ration with what its feeds hold, against mass, and what they are doubted for. */
export function describeRation(
  ground: RationGround,
  made: MadeRation,
): Result<"plan-ration", Ration> {
  const { feeds, diets, limits, asOrdered } = made;
  const totalG = feeds.reduce((total, f) => total + f.g, 0);
  if (!(totalG > 0)) {
    const about = { amount: totalG, unit: "g" };
    return noRation(ground, "not computed", [
      notice("ration-amount-not-positive", "problem", about),
    ]);
  }
  const massG = ground.mass.value!;
  const parts = partsOf(feeds, diets);
  const sum = (per: (d: EnergyDiet) => number | null, unit: string) =>
    sumOver(parts, diets, per, unit);
  const kcal = sum((d) => d.kcalPerG, "kcal/d");
  const water = sum((d) => shareOfPct(d.composition.waterPct), "mL/kg/d");
  const eaten = ground.recentEatenG.value;
  const doubts = asOrdered ? [] : amountDoubts(ground, feeds);
  return resultOf(ground, {
    ...groundOf(ground),
    status: "ration",
    asOrdered,
    feeds,
    parts,
    diets,
    totalG,
    kcal,
    shareOfMassPct: measured((100 * totalG) / massG, "% of body mass/d"),
    kcalPerMetabolicKg:
      kcal.value === null
        ? { ...kcal, unit: "kcal/kg^0.75/d" }
        : measured(kcal.value / (massG / 1000) ** metabolicPower, "kcal/kg^0.75/d"),
    waterMlPerKg: water.value === null ? water : measured(water.value / (massG / 1000), "mL/kg/d"),
    proteinG: sum((d) => shareOfPct(d.composition.proteinPct), "g/d"),
    fatG: sum((d) => shareOfPct(d.composition.fatPct), "g/d"),
    changePct: eaten === null || eaten <= 0 ? null : 100 * (totalG / eaten - 1),
    limits,
    notices: [...doubts, ...made.notices, ...warnings(ground, totalG, kcal.value), review()],
  });
}

/** What stands whatever was found. */
function groundOf(ground: RationGround) {
  const { series, past, feedingDay, ordered, level, mass, ageD, target, options } = ground;
  const doubts = orderDoubts(past, ordered, { at: options.at, settings: ground.settings });
  return {
    animalId: ground.animal,
    name: series.animal.name,
    species: series.animal.species,
    feedingDay,
    ordered,
    doubts,
    order: animalOrder(past, ordered, doubts, options.at, options.ordersOfNobody),
    level,
    massG: mass,
    ageD,
    target,
    recentEatenG: ground.recentEatenG,
    recentOfferedG: ground.recentOfferedG,
  };
}

function resultOf(ground: RationGround, value: Ration): Result<"plan-ration", Ration> {
  const { options, profile } = ground;
  return {
    kind: "plan-ration",
    schema: 1,
    value,
    method: {
      name: "Ration from mass, age, profile, diet and target",
      options: {
        at: options.at,
        feedingDay: ground.feedingDay,
        target: ground.target,
        scalePct: options.scalePct ?? 100,
        limits: options.limits ?? {},
        energy: energyAsked(options),
        profile: profile.species,
        overridden: profile.overridden.map((entry) => entry.entry),
      },
      citations: [],
    },
    basis: { used: ground.recent.length, leftOut: [], of: "feeding days" },
    diagnostics: {},
    notices: value.notices,
  };
}

/** A sum over the parts of the day; not defined where one of them is not known. */
function sumOver(
  parts: ReturnType<typeof partsOf>,
  diets: readonly EnergyDiet[],
  per: (d: EnergyDiet) => number | null,
  unit: string,
): Measured {
  let total = 0;
  for (const p of parts) {
    const diet = diets.find((d) => d.dietId === p.dietId);
    const each = diet === undefined ? null : per(diet);
    if (each === null) {
      return notDefined(unit, notice("ration-part-unknown", "caution", { diet: p.dietId }));
    }
    total += each * p.g;
  }
  return measured(total, unit);
}

function warnings(
  { mass, ageD, profile, animal }: RationGround,
  totalG: number,
  kcal: number | null,
): Notice[] {
  const massG = mass.value!;
  const said: Notice[] = [];
  warnImplausibleMass(massG, ageD, profile, animal, said);
  warnBelowDemand(kcal, massG / 1000, ageD, profile, animal, said);
  warnOutsideShare((100 * totalG) / massG, ageD, profile, animal, said);
  return said;
}

/** A suggestion is held against the same bound of a feed as an order. */
function amountDoubts({ settings, mass }: RationGround, feeds: readonly RationFeed[]): Notice[] {
  const bound = orderBoundsOf(settings).feedPctOfMass;
  const largest = Math.max(...feeds.map((f) => f.g));
  const pct = (100 * largest) / mass.value!;
  if (bound === null || pct <= bound) return [];
  const parameters = { feed: `${largest} g`, pct, mass: mass.value!, bound };
  return [notice("order-feed-over-mass", "problem", parameters)];
}
