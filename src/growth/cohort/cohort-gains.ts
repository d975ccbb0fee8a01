import { type Measured, measured } from "../../core/measured.js";
import { requireResult } from "../../core/require-result.js";
import type { Result } from "../../core/result.js";
import { makeIndividual } from "../../stats/nonlinear-mixed/individual.js";
import { individualPrior } from "../../stats/nonlinear-mixed/prior.js";
import { curveByName } from "../curve-catalogue.js";
import type { GrowthCurve } from "../growth-curve.js";
import { columnValues } from "./cohort-columns.js";
import type { CohortFit } from "./cohort-fit.js";
import { followNewAnimal } from "./predict-new-animal.js";

export interface CohortGains {
  readonly from: number;
  readonly to: number;
  /** Average gain of the typical animal over these ages. */
  readonly typical: Measured;
  /** Each animal's, slowest first. */
  readonly animals: readonly { readonly animal: string; readonly gain: Measured }[];
}

/**
 * Each animal's average gain between two ages under the cohort model, with its
 * interval, slowest first: what a caterpillar chart shows. An animal's gain is
 * drawn towards the cohort as far as its own weighings leave it open.
 *
 * @example cohortGains(fit, { from: 5, to: 15 }).value.animals[0].gain // { value: 61.2, unit: "g/d", ... }
 */
export function cohortGains(
  fit: CohortFit,
  options: {
    readonly from: number;
    readonly to: number;
    readonly level?: number;
    readonly curve?: GrowthCurve;
  },
): Result<"cohort-gains", CohortGains> {
  requireResult("cohortGains", "fit-cohort", fit);
  const { from, to, level = 0.95 } = options;
  const { value } = fit;
  // Refuses, with the reason, a fit without a population.
  followNewAnimal(fit, {
    ...(options.curve === undefined ? {} : { curve: options.curve }),
    covariates: value.animals[0]?.covariates ?? {},
  });
  const curve = options.curve ?? curveByName(value.curve);
  const unit = `${value.units.mass}/${value.units.age}`;
  const span = to - from;
  const riseOf = (
    covariates: Readonly<Record<string, number>>,
    ages: readonly number[],
    masses: readonly number[],
    of: "individual" | "population",
  ): Measured => {
    const one = makeIndividual(individualPrior(value.population!, covariates), (x, phi, out, at) =>
      curve.gradient(x, phi, out, at, value.constants),
    );
    ages.forEach((age, i) => {
      one.observe(age - value.origin, masses[i]!);
    });
    const rise = one.predictRise(from - value.origin, to - value.origin, { of, level });
    return measured(rise.value / span, unit, {
      se: rise.se / span,
      interval: { lower: rise.lower / span, upper: rise.upper / span, level },
      n: ages.length,
    });
  };
  const baseline = Object.fromEntries(
    value.population!.fixed.flatMap((f) => (f.covariate === null ? [] : [[f.covariate, 0]])),
  );
  const animals = value.animals
    .map((a) => ({
      animal: a.animal,
      gain: riseOf(
        columnValues(value.covariates, a.covariates, "cohortGains"),
        a.ages,
        a.masses,
        "individual",
      ),
    }))
    .sort((a, b) => a.gain.value! - b.gain.value!);
  return {
    kind: "cohort-gains",
    schema: 1,
    value: { from, to, typical: riseOf(baseline, [], [], "population"), animals },
    method: {
      name: "gain between two ages under a cohort model",
      options: { from, to, level },
      citations: fit.method.citations,
    },
    basis: { used: animals.length, leftOut: [], of: "animals" },
    diagnostics: {},
    notices: [],
  };
}
