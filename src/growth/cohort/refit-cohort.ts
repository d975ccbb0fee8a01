import { type Notice, notice } from "../../core/notice.js";
import type { LeftOut } from "../../core/result.js";
import { UsageError } from "../../core/usage-error.js";
import { fitNonlinearMixed } from "../../stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import type { MeanFunction } from "../../stats/nonlinear-mixed/model.js";
import { curveByName } from "../curve-catalogue.js";
import type { GrowthCurve } from "../growth-curve.js";
import type { CohortFit } from "./cohort-fit.js";
import { cohortMixedData } from "./cohort-mixed-data.js";

/** Fits the cohort again from its result, to have the engine a simulation needs. */
export function refitCohort(fit: CohortFit, own: GrowthCurve | undefined, where: string) {
  const { value } = fit;
  if (value.population === null || value.model === null) {
    throw new UsageError({
      needed: "a cohort fit that converged",
      came: `its status is "${value.status}"`,
      where,
      todo: "Read the fit's notices first.",
    });
  }
  const curve = own ?? curveByName(value.curve);
  const mean: MeanFunction = (x, phi, out, at) => curve.gradient(x, phi, out, at, value.constants);
  const data = cohortMixedData({
    animals: value.animals,
    covariates: value.covariates,
    actingOn: fit.method.options["covariates"] as Readonly<Record<string, readonly string[]>>,
    curve,
    model: value.model,
    logScale: value.parameters.filter((p) => p.logScale).map((p) => p.name),
    mean,
    origin: value.origin,
  });
  const mixed = fitNonlinearMixed(data, {
    method: fit.method.options["method"] as "ML" | "REML",
    starts: [value.parameters.map((p) => p.typical.value!)],
  });
  return { mixed, data, curve };
}

export const failedReplicates = (failed: number): LeftOut[] =>
  failed > 0 ? [{ reason: "the refit did not converge", count: failed }] : [];

/** A caution where more than one in twenty simulated cohorts could not be refitted. */
export const bootstrapNotices = (failed: number, replicates: number): Notice[] =>
  failed > 0.05 * replicates
    ? [notice("cohort-bootstrap-failures", "caution", { failed, replicates })]
    : [];
