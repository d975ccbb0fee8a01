import type { AnimalSeries, OrderLine } from "../series/animal-series.js";
import { orderAt } from "../series/orders/order-steps.js";
import { dueLines } from "../series/orders/ordered-on.js";
import { firstNotBefore, rowsBetween } from "../series/rows-between.js";
import { energyOf } from "./energy-of.js";

/** What was planned for a day and what was eaten, in grams or, where diets differ, in energy. */
export interface PlannedAndEaten {
  readonly unit: "g" | "kcal";
  /** A day's amount. */
  readonly planned: number;
  /** Bounds of what was eaten: equal where every refusal is known. */
  readonly least: number;
  readonly most: number;
}

/** Why what was eaten is not set beside what was ordered. */
export type NotCompared = "no plan" | "part of the time" | "not comparable";

/**
 * What is ordered in the middle of a stretch of a day, in the unit in which what
 * was fed can be set beside it. Grams of one diet say nothing about grams of
 * another: where more than one diet is ordered, or something else was fed (squid
 * for clam), the order is given as energy, each diet with its energy as last fed
 * to this animal by then, else as the table of diets has it.
 *
 * `"no plan"` where nothing is ordered; `"part of the time"` where the first order
 * began in the stretch or the last one ended in it; `"not comparable"` where what is ordered
 * cannot be added up (an amount not read, nothing by mouth in any part, an energy not known).
 *
 * @param from start of the stretch, included; `to` its end, not included.
 * @example comparablePlan(series, from, from + 86_400_000) // { unit: "g", planned: 400 }
 */
export function comparablePlan(
  series: AnimalSeries,
  from: number,
  to: number,
): Pick<PlannedAndEaten, "unit" | "planned"> | NotCompared {
  const middle = (from + to) / 2;
  const orders = [from, middle, to - 1].map((at) => orderAt(series.orders, at));
  if (orders.some((o) => o.state === "nil by mouth")) return "not comparable";
  const held = orders.filter((o) => o.lines.length > 0).length;
  if (held > 0 && held < orders.length) return "part of the time";
  const lines = dueLines(series.orders, middle);
  if (lines.length === 0) return "no plan";
  let grams = 0;
  for (const line of lines) {
    if (line.gPerDay === null) return "not comparable";
    grams += line.gPerDay;
  }
  if (grams <= 0) return "not comparable";
  const fed = rowsBetween(series.feeds, from, to);
  const diets = new Set(lines.map((line) => line.dietId));
  const oneDiet =
    diets.has(null) ||
    (diets.size === 1 && fed.every((f) => f.dietId === null || diets.has(f.dietId)));
  if (oneDiet) return { unit: "g", planned: grams };
  let planned = 0;
  for (const line of lines) {
    const perG = energyAsLastFed(series, line.dietId, to) ?? energyOfDiet(line);
    if (perG === null) return "not comparable";
    planned += line.gPerDay! * perG;
  }
  return planned > 0 ? { unit: "kcal", planned } : "not comparable";
}

/**
 * The plan beside what was eaten in the same stretch, see {@link comparablePlan}.
 *
 * @example plannedAndEaten(series, from, from + 86_400_000) // { unit: "g", planned: 400, least: 370, most: 370 }
 */
export function plannedAndEaten(
  series: AnimalSeries,
  from: number,
  to: number,
): PlannedAndEaten | NotCompared {
  const plan = comparablePlan(series, from, to);
  if (typeof plan === "string") return plan;
  let least = 0;
  let most = 0;
  for (const f of rowsBetween(series.feeds, from, to)) {
    const energy = f.composition === null ? null : energyOf(f.composition).kcalPerG.value;
    const perG = plan.unit === "g" ? 1 : energy;
    if (perG === null && f.eatenHighG > 0) return "not comparable";
    least += f.eatenLowG * (perG ?? 0);
    most += f.eatenHighG * (perG ?? 0);
  }
  return { ...plan, least, most };
}

function energyOfDiet(line: OrderLine): number | null {
  return line.diet === null ? null : energyOf(line.diet.composition).kcalPerG.value;
}

function energyAsLastFed(
  series: AnimalSeries,
  dietId: string | null,
  before: number,
): number | null {
  for (let i = firstNotBefore(series.feeds, before) - 1; i >= 0; i--) {
    const { dietId: fed, composition } = series.feeds[i]!;
    if (fed === dietId && composition !== null) {
      return energyOf(composition).kcalPerG.value;
    }
  }
  return null;
}
