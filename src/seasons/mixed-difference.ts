import type { Interval } from "../core/measured.js";
import { estimateContrast, prepareInference } from "../stats/linear-mixed/contrasts.js";
import { fitLinearMixed } from "../stats/linear-mixed/fit-linear-mixed.js";
import type { AdjustedModel } from "./adjusted-model.js";
import type { SeasonGain } from "./season-gain.js";

/** The same estimand from all daily masses at once, by a linear mixed model. */
export interface MixedDifference {
  readonly from: string;
  readonly to: string;
  /** `to` minus `from`, g/d. */
  readonly difference: number;
  readonly se: number;
  readonly df: number;
  readonly p: number;
  readonly interval: Interval;
}

export interface MixedSeasons {
  readonly pairs: readonly MixedDifference[];
  /** Weighed days and animals behind it. */
  readonly days: number;
  readonly animals: number;
  readonly dfMethod: string;
  readonly status: "converged" | "not converged" | "failed";
  readonly singular: boolean;
  /** Spread of animals' gains, g/d, and of a day's mass about its animal's line, g. */
  readonly gainSd: number;
  readonly daySd: number;
}

/** From this many animals on, Satterthwaite's degrees of freedom are used. */
const MANY = 60;

/**
 * Difference in mean gain between seasons from the daily masses: season, age,
 * season x age, a curvature common to all, each adjustment and its product with
 * age; every animal has its own level and gain (REML, Kenward-Roger degrees of
 * freedom, Satterthwaite above 60 animals). Unlike the model on each animal's gain it weighs animals by how
 * well their gains are known. Where all are weighed daily the two agree.
 *
 * Laird NM, Ware JH (1982) Biometrics 38:963-974; Kenward MG, Roger JH (1997)
 * Biometrics 53:983-997. Null where there is nothing to fit.
 */
export function mixedDifferences(
  animals: readonly SeasonGain[],
  model: AdjustedModel,
  pairs: readonly (readonly [string, string])[],
  level = 0.95,
  /** Whether a curvature common to all is in the model; without it each animal is a line. */
  curvature = true,
): MixedSeasons | null {
  const rows = animals.flatMap((animal, i) =>
    animal.days.map((d) => ({ ...d, animal: animal.animalId, of: model.design[i]! })),
  );
  if (rows.length < animals.length * 3) return null;
  const middle = rows.reduce((s, r) => s + r.ageD, 0) / rows.length;
  const t = rows.map((r) => r.ageD - middle);
  const meanT2 = t.reduce((s, x) => s + x * x, 0) / t.length;
  const ones = rows.map(() => 1);
  // Seasons, then adjustments: the same columns as in the model on animals, once as they are
  // and once times age.
  const plain = model.design[0]!.map((_, j) => rows.map((r) => r.of[j]!));
  const timesAge = plain.map((column) => column.map((x, i) => x * t[i]!));
  const bend = curvature ? [t.map((x) => x * x - meanT2)] : [];
  const columns = [...plain, ...timesAge, ...bend];
  const names = columns.map((_, j) => `c${j}`);
  const fit = fitLinearMixed({
    response: rows.map((r) => r.massG),
    fixed: { names, columns },
    levels: [
      {
        name: "animal",
        group: rows.map((r) => r.animal),
        names: ["level", "gain"],
        columns: [ones, t],
      },
    ],
  });
  if (fit.status === "failed") return null;
  // The two agree once animals are many, and Kenward and Roger's cost grows faster than theirs.
  const inference = prepareInference(fit, animals.length > MANY ? "satterthwaite" : "best");
  return {
    pairs: pairs.map(([from, to]) => {
      const row = new Array<number>(columns.length).fill(0);
      row[plain.length + model.seasons.indexOf(from)] = -1;
      row[plain.length + model.seasons.indexOf(to)] = 1;
      const c = estimateContrast(inference, row, level);
      return {
        from,
        to,
        difference: c.estimate,
        se: c.se,
        df: c.df,
        p: c.p,
        interval: { lower: c.lower, upper: c.upper, level },
      };
    }),
    days: rows.length,
    animals: animals.length,
    dfMethod: inference.df,
    status: fit.status,
    singular: fit.singular,
    gainSd: fit.random[0]?.sd[1] ?? 0,
    daySd: fit.sigma,
  };
}
