import type { Interval } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { StudySeries } from "../series/animal-series.js";
import { fitLinearMixed } from "../stats/linear-mixed.js";
import { estimateContrast, prepareInference } from "../stats/linear-mixed-contrasts.js";
import { type AdjustedModel, adjustments, fitAdjustedModel } from "./adjusted-model.js";
import { type AgeWindow, type SeasonGainOptions, seasonGains } from "./season-gain.js";

export interface SeasonCurvesOptions extends Omit<SeasonGainOptions, "birth" | "window"> {
  readonly window: AgeWindow;
  /** Days between the ages at which curves are given. Default 7. */
  readonly stepD?: number;
  readonly level?: number;
}

export interface SeasonCurve {
  readonly season: string;
  readonly n: number;
  /** Mass of a typical animal with the common arrival, g, at each age. */
  readonly points: readonly {
    readonly ageD: number;
    readonly massG: number;
    readonly interval: Interval;
  }[];
}

export interface CurveDifference {
  readonly from: string;
  readonly to: string;
  /** How much heavier, %, `to` than `from`, at each age; intervals age by age. */
  readonly points: readonly {
    readonly ageD: number;
    readonly percent: number;
    readonly interval: Interval;
  }[];
}

export interface SeasonCurves {
  readonly species: string;
  readonly window: AgeWindow;
  readonly curves: readonly SeasonCurve[];
  readonly differences: readonly CurveDifference[];
  readonly status: "converged" | "not converged" | "failed";
  readonly sentences: readonly Notice[];
}

/**
 * Mean growth curves of the seasons at a common arrival, and their differences:
 * a mixed model of ln mass with a cubic in age for each season, the adjustments
 * and their products with age, and for each animal its own level and rate. A
 * picture of where seasons part; the decision rests on `compareSeasons`, whose
 * animals it uses. Intervals hold for each age by itself, not for all at once.
 *
 * Laird NM, Ware JH (1982) Biometrics 38:963-974. Null value where fewer than two
 * seasons have three animals.
 *
 * @example seasonCurves(study, { species: "sea otter", window: { fromAgeD: 21, toAgeD: 84 } }).value.curves[0]
 */
export function seasonCurves(
  study: StudySeries,
  options: SeasonCurvesOptions,
): Result<"season-curves", SeasonCurves> {
  const level = options.level ?? 0.95;
  const gains = seasonGains(study, options);
  const enough = gains.seasons.filter(
    (s) => gains.animals.filter((a) => a.season === s).length >= 3,
  );
  const animals = gains.animals.filter((a) => enough.includes(a.season));
  const model = enough.length === 0 ? null : fitAdjustedModel(animals, enough, adjustments);
  const fitted =
    model === null ? null : fitCurves(animals, model, options.window, options.stepD ?? 7, level);
  return {
    kind: "season-curves",
    schema: 1,
    value: {
      species: gains.species,
      window: options.window,
      curves: fitted?.curves ?? [],
      differences: fitted?.differences ?? [],
      status: fitted?.status ?? "failed",
      sentences: fitted === null ? [] : [notice("season-curves-picture", "info")],
    },
    method: {
      name: "Cubic in age by season, ln mass, linear mixed model",
      options: {
        species: gains.species,
        window: options.window,
        stepD: options.stepD ?? 7,
        level,
        adjusted: model?.used ?? [],
      },
      citations: ["Laird NM, Ware JH (1982) Biometrics 38:963-974"],
    },
    basis: {
      used: animals.length,
      leftOut: [{ reason: "window not complete or age unusable", count: gains.leftOut.length }],
      of: "animals",
    },
    diagnostics: { residualSd: fitted?.sigma ?? null },
    notices: [],
  };
}

function fitCurves(
  animals: ReturnType<typeof seasonGains>["animals"],
  model: AdjustedModel,
  window: AgeWindow,
  stepD: number,
  level: number,
) {
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
