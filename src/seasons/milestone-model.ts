import type { Interval } from "../core/measured.js";
import type { StudySeries } from "../series/animal-series.js";
import { normalQuantile } from "../stats/distributions/normal.js";
import { matrixFromRows } from "../stats/linear-algebra/matrix.js";
import { coxRegression } from "../stats/survival/cox-regression.js";
import type { MilestoneTime } from "./milestone-times.js";

/** A proportional-hazards model of reaching a milestone. */
export interface MilestoneModel {
  readonly events: number;
  readonly n: number;
  readonly terms: readonly {
    readonly name: "arrival mass" | "sex";
    /** What one step is: a kilogram at arrival, male against female. */
    readonly per: string;
    /** Above 1: reached sooner. */
    readonly hazardRatio: number;
    readonly interval: Interval;
    readonly p: number | null;
  }[];
  readonly status: "converged" | "did-not-converge" | "not-identified";
}

/** Fewest events for any model, and for each further covariate. */
export const LEAST_EVENTS = 10;

/**
 * Cox model (Efron ties, start-stop times) of a milestone on arrival mass, and
 * on sex as well from 20 events on. Null under 10 events or where an animal
 * lacks the covariate.
 */
export function milestoneModel(
  study: StudySeries,
  rows: readonly MilestoneTime[],
  data: { readonly time: number[]; readonly event: boolean[]; readonly entry: number[] },
  level: number,
): MilestoneModel | null {
  const events = data.event.filter(Boolean).length;
  if (events < LEAST_EVENTS) return null;
  const by = new Map(study.animals.map((a) => [a.animal.animalId, a]));
  const mass = rows.map((r) => by.get(r.animalId)?.daily[0]?.massG ?? null);
  const sexes = rows.map((r) => by.get(r.animalId)?.animal.sex ?? "unknown");
  if (mass.some((m) => m === null)) return null;
  const withSex =
    events >= 2 * LEAST_EVENTS && !sexes.includes("unknown") && new Set(sexes).size === 2;
  const x = matrixFromRows(
    rows.map((_, i) => [mass[i]! / 1000, ...(withSex ? [sexes[i] === "male" ? 1 : 0] : [])]),
  );
  const fit = coxRegression(data, x, { ties: "efron" });
  const z = normalQuantile((1 + level) / 2);
  const names = ["arrival mass", "sex"] as const;
  const per = ["kg at arrival", "male against female"];
  return {
    events,
    n: rows.length,
    terms: fit.coefficients.flatMap((b, j) => {
      const se = fit.standardErrors[j] ?? null;
      if (se === null) return [];
      return [
        {
          name: names[j]!,
          per: per[j]!,
          hazardRatio: Math.exp(b),
          interval: { lower: Math.exp(b - z * se), upper: Math.exp(b + z * se), level },
          p: fit.pValues[j] ?? null,
        },
      ];
    }),
    status: fit.status,
  };
}
