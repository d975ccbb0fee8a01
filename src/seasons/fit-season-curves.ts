import { estimateContrast, prepareInference } from "../stats/linear-mixed/contrasts.js";
import { fitLinearMixed } from "../stats/linear-mixed/fit-linear-mixed.js";
import type { AdjustedModel } from "./adjusted-model.js";
import type { AgeWindow } from "./gain-window.js";
import type { CurveDifference, SeasonCurve } from "./season-curve.js";
import type { SeasonGain } from "./season-gain.js";

export interface FittedSeasonCurves {
  readonly status: "converged" | "not converged";
  /** Spread of a day's ln mass about its animal's curve. */
  readonly sigma: number;
  readonly dfMethod: string;
  readonly curves: readonly SeasonCurve[];
  readonly differences: readonly CurveDifference[];
}

/**
 * Fits a mixed model of ln mass with a cubic in age for each season, the
 * adjustments of the model on animals and their products with age, and for each
 * animal its own level and rate; null where it fails.
 */
export function fitSeasonCurves(
  animals: readonly SeasonGain[],
  model: AdjustedModel,
  window: AgeWindow,
  stepD: number,
  level: number,
): FittedSeasonCurves | null {
  const k = model.seasons.length;
  const middle = (window.fromAgeD + window.toAgeD) / 2;
  const half = (window.toAgeD - window.fromAgeD) / 2;
  // Legendre polynomials on the window keep the columns nearly uncorrelated.
  const basis = (ageD: number) => {
    const x = (ageD - middle) / half;
    return [1, x, (3 * x * x - 1) / 2, (5 * x * x * x - 3 * x) / 2];
  };
  const rowOf = (ageD: number, design: readonly number[]) => {
    const b = basis(ageD);
    return [
      ...design.slice(0, k).flatMap((on) => b.map((v) => on * v)),
      ...design.slice(k).flatMap((z) => [z, z * b[1]!]),
    ];
  };
  const rows = animals.flatMap((a, i) =>
    a.days.map((d) => ({ ...d, animalId: a.animalId, row: rowOf(d.ageD, model.design[i]!) })),
  );
  const width = rows[0]?.row.length ?? 0;
  const fit = fitLinearMixed({
    response: rows.map((r) => Math.log(r.massG)),
    fixed: {
      names: Array.from({ length: width }, (_, j) => `c${j}`),
      columns: Array.from({ length: width }, (_, j) => rows.map((r) => r.row[j]!)),
    },
    levels: [
      {
        name: "animal",
        group: rows.map((r) => r.animalId),
        names: ["level", "rate"],
        columns: [rows.map(() => 1), rows.map((r) => basis(r.ageD)[1]!)],
      },
    ],
  });
  if (fit.status === "failed") return null;
  const inference = prepareInference(fit, animals.length > 60 ? "satterthwaite" : "best");
  const ages: number[] = [];
  for (let age = window.fromAgeD; age <= window.toAgeD + 1e-9; age += stepD) ages.push(age);
  // The common arrival: every adjustment at its centre, which is 0.
  const centre = model.design[0]!.slice(k).map(() => 0);
  const at = (season: number, ageD: number) =>
    rowOf(ageD, [...model.seasons.map((_, s) => (s === season ? 1 : 0)), ...centre]);
  const estimate = (row: readonly number[]) => estimateContrast(inference, row, level);
  return {
    status: fit.status,
    sigma: fit.sigma,
    dfMethod: inference.df,
    curves: model.seasons.map((season, s) => ({
      season,
      n: animals.filter((a) => a.season === season).length,
      points: ages.map((ageD) => {
        const c = estimate(at(s, ageD));
        return {
          ageD,
          massG: Math.exp(c.estimate),
          interval: { lower: Math.exp(c.lower), upper: Math.exp(c.upper), level },
        };
      }),
    })),
    differences: model.seasons.flatMap((from, i) =>
      model.seasons.slice(i + 1).map((to, j) => ({
        from,
        to,
        points: ages.map((ageD) => {
          const a = at(i, ageD);
          const b = at(i + 1 + j, ageD);
          const c = estimate(b.map((x, m) => x - a[m]!));
          const percent = (x: number) => 100 * Math.expm1(x);
          return {
            ageD,
            percent: percent(c.estimate),
            interval: { lower: percent(c.lower), upper: percent(c.upper), level },
          };
        }),
      })),
    ),
  };
}
