import { type Measured, measured, notDefined } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { NonlinearMixedFit } from "../../stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import { makeIndividual } from "../../stats/nonlinear-mixed/individual.js";
import type { MeanFunction } from "../../stats/nonlinear-mixed/model.js";
import { individualPrior, populationModel } from "../../stats/nonlinear-mixed/prior.js";
import { type GrowthCurve, parameterUnit } from "../growth-curve.js";
import type { AnimalHistory } from "./animal-history.js";
import { columnValues } from "./cohort-columns.js";
import type { CohortAnimal, CohortFitValue, CohortModel, CohortParameter } from "./cohort-fit.js";

/** What a cohort's value holds whether or not a model was fitted. */
export type SharedValue = Pick<
  CohortFitValue,
  "curve" | "equation" | "units" | "origin" | "constants" | "ages" | "covariates"
>;

export function emptyValue(
  shared: SharedValue,
  animals: readonly AnimalHistory[],
  fit: NonlinearMixedFit | null,
  model: CohortModel | null,
  notices: readonly Notice[],
): CohortFitValue {
  const why = notices[notices.length - 1] ?? notice("cohort-not-fitted", "problem");
  return {
    ...shared,
    status: fit === null || fit.status === "converged" ? "too-few-animals" : fit.status,
    converged: false,
    model,
    parameters: [],
    correlation: null,
    residualSd: notDefined(shared.units.mass, why),
    power: null,
    serialCorrelation: null,
    logLikelihood: null,
    aic: null,
    bic: null,
    animals: animals.map((a) => ({
      animal: a.animal,
      ages: a.ages,
      masses: a.masses,
      fitted: [],
      parameters: [],
      covariates: a.covariates ?? {},
    })),
    population: null,
  };
}

export function fullValue(
  shared: SharedValue,
  animals: readonly AnimalHistory[],
  fit: NonlinearMixedFit,
  model: CohortModel,
  curve: GrowthCurve,
  mean: MeanFunction,
  options: { readonly logScale?: readonly string[] },
): CohortFitValue {
  const population = populationModel(fit);
  const { units } = shared;
  const isLog = (name: string) => (options.logScale ?? []).includes(name);
  const unitOf = (j: number) => {
    const p = curve.parameters[j]!;
    return isLog(p.name) ? "1" : parameterUnit(p.kind, units.age, units.mass);
  };
  const toNatural = (j: number, eta: number, se: number): Measured => {
    const p = curve.parameters[j]!;
    const unit = parameterUnit(p.kind, units.age, units.mass);
    return isLog(p.name)
      ? measured(Math.exp(eta), unit, { se: Math.exp(eta) * se })
      : measured(eta, unit, { se });
  };
  const parameters: CohortParameter[] = curve.parameters.map((p, j) => {
    const basic = population.fixed.findIndex((f) => f.parameter === j && f.covariate === null);
    const at = fit.random.names.indexOf(p.name);
    return {
      name: p.name,
      meaning: p.meaning,
      kind: p.kind,
      typical: toNatural(j, population.fixed[basic]!.estimate, fit.fixed.standardErrors[basic]!),
      between: at < 0 ? null : measured(fit.random.sd[at]!, unitOf(j), { n: fit.groups }),
      logScale: isLog(p.name),
      effects: population.fixed.flatMap((f, c) => {
        if (f.parameter !== j || f.covariate === null) return [];
        const [covariate, level] = f.covariate.split("=");
        return [
          {
            covariate: covariate!,
            level: level ?? null,
            effect: measured(f.estimate, unitOf(j), { se: fit.fixed.standardErrors[c]! }),
          },
        ];
      }),
    };
  });
  let row = 0;
  const own: CohortAnimal[] = animals.map((a) => {
    const prior = individualPrior(
      population,
      columnValues(shared.covariates, a.covariates ?? {}, "fitCohort"),
    );
    const one = makeIndividual(prior, mean);
    a.ages.forEach((age, i) => {
      one.observe(age - shared.origin, a.masses[i]!);
    });
    const k = curve.parameters.length;
    const fitted = a.ages.map((_, i) => fit.fitted[row + i]!);
    row += a.ages.length;
    return {
      animal: a.animal,
      ages: a.ages,
      masses: a.masses,
      fitted,
      parameters: curve.parameters.map((_, j) =>
        toNatural(j, one.eta[j]!, Math.sqrt(one.covariance[j * k + j]!)),
      ),
      covariates: a.covariates ?? {},
    };
  });
  return {
    ...shared,
    status: "converged",
    converged: true,
    model,
    parameters,
    correlation: fit.random.correlation,
    residualSd: measured(fit.sigma, units.mass, { n: fit.n }),
    power: fit.residual?.power ?? null,
    serialCorrelation: fit.residual?.phi ?? null,
    logLikelihood: fit.logLikelihood,
    aic: fit.aic,
    bic: fit.bic,
    animals: own,
    population,
  };
}
