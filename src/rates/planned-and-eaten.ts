import type { AnimalSeries } from "../series/animal-series.js";
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

/**
 * The plan in force in the middle of a stretch of a day, in the unit in which
 * what was fed can be set beside it. Grams of one diet say nothing about grams
 * of another: where more than one diet is planned, or something else was fed
 * (squid for clam), the plan is given as energy, each planned diet with its
 * energy as last fed to this animal by then.
 *
 * A plan without an end holds until it is replaced: the newest rows count,
 * together. `"no plan"` where none says how much and how often; `"not
 * comparable"` where another diet was fed and an energy is not known.
 *
 * @param from start of the stretch, included; `to` its end, not included.
 * @example comparablePlan(series, from, from + 86_400_000) // { unit: "g", planned: 400 }
 */
export function comparablePlan(
  series: AnimalSeries,
  from: number,
  to: number,
): Pick<PlannedAndEaten, "unit" | "planned"> | "no plan" | "not comparable" {
  const rows = planRows(series, (from + to) / 2);
  const grams = rows.reduce((sum, r) => sum + r.grams, 0);
  if (grams <= 0) return "no plan";
  const fed = series.feeds.filter((f) => f.at >= from && f.at < to);
  const diets = new Set(rows.map((r) => r.dietId));
  const oneDiet =
    diets.has(null) ||
    (diets.size === 1 && fed.every((f) => f.dietId === null || diets.has(f.dietId)));
  if (oneDiet) return { unit: "g", planned: grams };
  let planned = 0;
  for (const row of rows) {
    const perG = energyAsLastFed(series, row.dietId, to);
    if (perG === null) return "not comparable";
    planned += row.grams * perG;
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
): PlannedAndEaten | "no plan" | "not comparable" {
  const plan = comparablePlan(series, from, to);
  if (typeof plan === "string") return plan;
  let least = 0;
  let most = 0;
  for (const f of series.feeds) {
    if (f.at < from || f.at >= to) continue;
    const energy = f.composition === null ? null : energyOf(f.composition).kcalPerG.value;
    const perG = plan.unit === "g" ? 1 : energy;
    if (perG === null && f.eatenHighG > 0) return "not comparable";
    least += f.eatenLowG * (perG ?? 0);
    most += f.eatenHighG * (perG ?? 0);
  }
  return { ...plan, least, most };
}

/** Grams a day of each row of the plan in force at an instant. */
function planRows(series: AnimalSeries, at: number) {
  const valid = series.plans.filter((p) => p.from <= at && (p.to === null || p.to > at));
  const newest = valid.reduce((latest, p) => Math.max(latest, p.from), Number.NEGATIVE_INFINITY);
  return valid
    .filter((p) => p.from === newest && (p.gPerFeed ?? 0) > 0)
    .flatMap((p) => {
      const feeds = p.feedsPerDay ?? (p.feedTimes.length > 0 ? p.feedTimes.length : null);
      return feeds === null || p.gPerFeed === null
        ? []
        : [{ dietId: p.dietId, grams: feeds * p.gPerFeed }];
    });
}

function energyAsLastFed(
  series: AnimalSeries,
  dietId: string | null,
  before: number,
): number | null {
  for (let i = series.feeds.length - 1; i >= 0; i--) {
    const { dietId: fed, at, composition } = series.feeds[i]!;
    if (fed === dietId && at < before && composition !== null) {
      return energyOf(composition).kcalPerG.value;
    }
  }
  return null;
}
