import type { LongWork } from "../../core/long-work.js";
import { type Measured, measured } from "../../core/measured.js";
import { requireResult } from "../../core/require-result.js";
import type { Result } from "../../core/result.js";
import {
  type BootstrapInterval,
  bootstrapNonlinearMixed,
} from "../../stats/nonlinear-mixed/bootstrap.js";
import { type GrowthCurve, parameterUnit } from "../growth-curve.js";
import type { CohortFit } from "./cohort-fit.js";
import { bootstrapNotices, failedReplicates, refitCohort } from "./refit-cohort.js";

export interface CohortBootstrap {
  readonly level: number;
  readonly parameters: readonly { readonly name: string; readonly typical: Measured }[];
  readonly between: readonly { readonly name: string; readonly sd: Measured }[];
  readonly residualSd: Measured;
}

/**
 * Percentile intervals of the typical parameters and of the differences between
 * animals, by parametric bootstrap of the whole cohort.
 *
 * @example bootstrapCohort(fit, { seed: 1, replicates: 500 }).value.between[0].sd.interval
 */
export function bootstrapCohort(
  fit: CohortFit,
  options: LongWork & {
    readonly replicates?: number;
    readonly level?: number;
    readonly curve?: GrowthCurve;
  } = {},
): Result<"bootstrap-cohort", CohortBootstrap> {
  requireResult("bootstrapCohort", "fit-cohort", fit);
  const { replicates = 200, level = 0.95, seed = 1 } = options;
  const { mixed, data, curve } = refitCohort(fit, options.curve, "bootstrapCohort");
  const result = bootstrapNonlinearMixed(mixed, data, { ...options, replicates, level, seed });
  const { units } = fit.value;
  const unitOf = (name: string) => {
    const parameter = fit.value.parameters.find(
      (p) => name === p.name || name.startsWith(`${p.name}.`),
    );
    const kind = curve.parameters.find((p) => p.name === parameter?.name)?.kind ?? "shape";
    return parameter?.logScale ? "1" : parameterUnit(kind, units.age, units.mass);
  };
  const as = (b: BootstrapInterval, unit: string) =>
    measured(b.estimate, unit, { se: b.se, interval: { lower: b.lower, upper: b.upper, level } });
  return {
    kind: "bootstrap-cohort",
    schema: 1,
    value: {
      level,
      parameters: result.fixed.map((b) => ({ name: b.name, typical: as(b, unitOf(b.name)) })),
      between: result.sd.map((b) => ({ name: b.name, sd: as(b, unitOf(b.name)) })),
      residualSd: as(result.sigma, units.mass),
    },
    method: {
      name: "parametric bootstrap, percentile intervals",
      options: { replicates, level, seed },
      citations: ["Efron B, Tibshirani RJ (1993) An Introduction to the Bootstrap, Chapman & Hall"],
    },
    basis: {
      used: replicates - result.failed,
      leftOut: failedReplicates(result.failed),
      of: "simulated cohorts",
    },
    diagnostics: { failed: result.failed },
    notices: bootstrapNotices(result.failed, replicates),
  };
}
