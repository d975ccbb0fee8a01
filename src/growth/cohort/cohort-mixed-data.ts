import type { MeanFunction, NonlinearMixedData } from "../../stats/nonlinear-mixed/model.js";
import type { GrowthCurve } from "../growth-curve.js";
import type { AnimalHistory } from "./animal-history.js";
import { columnNames, columnValues } from "./cohort-columns.js";
import type { CohortCovariate, CohortModel } from "./cohort-fit.js";

/** Turns a cohort into rows for the nonlinear mixed model; one group per animal, in order. */
export function cohortMixedData(parts: {
  readonly animals: readonly AnimalHistory[];
  readonly covariates: readonly CohortCovariate[];
  /** Names of the covariates acting on each parameter. */
  readonly actingOn: Readonly<Record<string, readonly string[]>>;
  readonly curve: GrowthCurve;
  readonly model: CohortModel;
  readonly logScale: readonly string[];
  readonly mean: MeanFunction;
  readonly origin: number;
}): NonlinearMixedData {
  const { animals, covariates, actingOn, curve, model, logScale, mean, origin } = parts;
  const x: number[] = [];
  const response: number[] = [];
  const group: string[] = [];
  const columns: Record<string, number>[] = [];
  animals.forEach((a, g) => {
    const values = columnValues(covariates, a.covariates ?? {}, "fitCohort");
    a.ages.forEach((age, i) => {
      x.push(age - origin);
      response.push(a.masses[i]!);
      group.push(String(g));
      columns.push(values);
    });
  });
  return {
    x,
    response,
    group,
    mean,
    parameters: curve.parameters.map((p) => p.name),
    random: model.random,
    covariance: model.covariance,
    logScale,
    covariates: Object.entries(actingOn).flatMap(([parameter, names]) =>
      covariates
        .filter((c) => names.includes(c.name))
        .flatMap((c) =>
          columnNames(c).map((name) => ({
            parameter,
            name,
            values: columns.map((row) => row[name]!),
          })),
        ),
    ),
    ...(model.variance === "power" || model.serial
      ? {
          residual: {
            ...(model.variance === "power" ? { power: {} } : {}),
            ...(model.serial ? { serial: { time: x } } : {}),
          },
        }
      : {}),
  };
}
