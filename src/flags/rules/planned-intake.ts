import type { IntakeDay } from "../../rates/intake-by-day.js";
import { comparablePlan } from "../../rates/planned-and-eaten.js";
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

/** The plan of one diet on one day. */
export interface PlanLine {
  readonly dietId: string | null;
  readonly feeds: number;
  readonly grams: number;
  readonly times: readonly string[];
}

/**
 * The plan valid at an instant, diet by diet. A plan without an end holds until it
 * is replaced: the newest rows count, together. The number of feeds is the one
 * stated, else the number of feed times.
 */
export function planAt(animal: PreparedAnimal, at: number): readonly PlanLine[] {
  const valid = animal.series.plans.filter((p) => p.from <= at && (p.to === null || p.to > at));
  const newest = valid.reduce((latest, p) => Math.max(latest, p.from), Number.NEGATIVE_INFINITY);
  return valid
    .filter((p) => p.from === newest)
    .flatMap((p) => {
      const feeds = p.feedsPerDay ?? (p.feedTimes.length > 0 ? p.feedTimes.length : null);
      return feeds === null
        ? []
        : [{ dietId: p.dietId, feeds, grams: feeds * (p.gPerFeed ?? 0), times: p.feedTimes }];
    });
}

/**
 * What was planned and eaten on a feeding day, in grams or, with more than one diet
 * planned or another one fed, as energy.
 *
 * @example plannedIntake(animal, day) // { unit: "g", planned: 480, feeds: 8, least: 240, most: 240 }
 */
export function plannedIntake(
  animal: PreparedAnimal,
  day: IntakeDay,
): PlannedIntake | "no plan" | "other diet" {
  const plan = comparablePlan(animal.series, day.from, day.to);
  if (plan === "no plan") return plan;
  if (plan === "not comparable") return "other diet";
  const feeds = planAt(animal, (day.from + day.to) / 2)
    .filter((line) => line.grams > 0)
    .reduce((sum, line) => sum + line.feeds, 0);
  if (plan.unit === "g")
    return { ...plan, feeds, least: day.eatenG.low, most: day.eatenG.high ?? day.offeredG };
  if (day.kcal.high === null) return "other diet";
  return { ...plan, feeds, least: day.kcal.low, most: day.kcal.high };
}
