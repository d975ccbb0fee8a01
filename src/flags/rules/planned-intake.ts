import { onceFor } from "../../core/once-for.js";
import type { IntakeDay } from "../../rates/intake-by-day.js";
import { comparablePlan } from "../../rates/planned-and-eaten.js";
import { dueLines } from "../../series/orders/ordered-on.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";

/** What was planned and eaten on one feeding day. */
export interface PlannedIntake {
  readonly unit: "g" | "kcal";
  readonly planned: number;
  /** Feeds planned that day. */
  readonly feeds: number;
  /** Eaten at least and at most: apart where refusals or diets are not known. */
  readonly least: number;
  readonly most: number;
}

/**
 * What was planned and eaten on a feeding day, in grams or, with more than one diet
 * planned or another one fed, as energy.
 *
 * @example plannedIntake(animal, day) // { unit: "g", planned: 480, feeds: 8, least: 240, most: 240 }
 */
export function plannedIntake(animal: PreparedAnimal, day: IntakeDay): Planned {
  // Each day is asked about twice, as the last full one and as the one before.
  return planned(animal, day);
}

type Planned = PlannedIntake | "no plan" | "other diet";
const planned = onceFor(workOut);

function workOut(animal: PreparedAnimal, day: IntakeDay): Planned {
  const plan = comparablePlan(animal.series, day.from, day.to);
  if (plan === "no plan" || plan === "part of the time") return "no plan";
  if (plan === "not comparable") return "other diet";
  const feeds = dueLines(animal.series.orders, (day.from + day.to) / 2)
    .filter((line) => (line.gPerDay ?? 0) > 0)
    .reduce((sum, line) => sum + (line.feeds ?? 0), 0);
  if (plan.unit === "g")
    return { ...plan, feeds, least: day.eatenG.low, most: day.eatenG.high ?? day.offeredG };
  if (day.kcal.high === null) return "other diet";
  return { ...plan, feeds, least: day.kcal.low, most: day.kcal.high };
}
