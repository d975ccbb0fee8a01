import type { LongWork } from "../../core/long-work.js";
import { requireResult } from "../../core/require-result.js";
import type { Result } from "../../core/result.js";
import { calibrateIndividuals } from "../../stats/nonlinear-mixed/bootstrap.js";
import type { GrowthCurve } from "../growth-curve.js";
import { columnValues } from "./cohort-columns.js";
import type { CohortFit } from "./cohort-fit.js";
import { bootstrapNotices, failedReplicates, refitCohort } from "./refit-cohort.js";

export interface CalibrateCohortOptions extends LongWork {
  /** Refitted simulated cohorts. Default 200. */
  readonly replicates?: number;
  /** Numbers of weighings to calibrate for. Default 0, 1, 3, 7. */
  readonly counts?: readonly number[];
  /** Days from the last weighing to the day predicted. Default 7. */
  readonly ahead?: number;
  /** Age at the first weighing of a new animal. Default: the cohort's first. */
  readonly first?: number;
  /** Days between its weighings. Default 1. */
  readonly spacing?: number;
  readonly level?: number;
  readonly covariates?: Readonly<Record<string, string | number>>;
  readonly curve?: GrowthCurve;
}

export interface CohortCalibration {
  readonly level: number;
  readonly ahead: number;
  readonly multipliers: readonly {
    readonly weighings: number;
    /** For `predictForNewAnimal`'s option of the same name. */
    readonly multiplier: number;
    /** What Student's t intervals held in the same simulation. */
    readonly coverageBefore: number;
  }[];
}

/**
 * Interval multipliers for new animals of this cohort, by parametric bootstrap:
 * for each number of own weighings, the multiple of the standard error that holds
 * the level when the cohort itself is drawn and fitted anew. Worth its seconds
 * with fewer than about ten animals.
 *
 * @example calibrateCohort(fit, { seed: 1 }).value.multipliers[0] // { weighings: 0, multiplier: 2.4, ... }
 */
export function calibrateCohort(
  fit: CohortFit,
  options: CalibrateCohortOptions = {},
): Result<"calibrate-cohort", CohortCalibration> {
  requireResult("calibrateCohort", "fit-cohort", fit);
  const {
    replicates = 200,
    counts = [0, 1, 3, 7],
    ahead = 7,
    spacing = 1,
    level = 0.95,
    seed = 1,
  } = options;
  const first = options.first ?? fit.value.ages.from;
  const { mixed, data } = refitCohort(fit, options.curve, "calibrateCohort");
  const { multipliers, failed } = calibrateIndividuals(mixed, data, {
    ...options,
    replicates,
    counts,
    ahead,
    first: first - fit.value.origin,
    spacing,
    level,
    seed,
    covariates: columnValues(fit.value.covariates, options.covariates ?? {}, "calibrateCohort"),
  });
  return {
    kind: "calibrate-cohort",
    schema: 1,
    value: {
      level,
      ahead,
      multipliers: multipliers.map((m) => ({
        weighings: m.count,
        multiplier: m.multiplier,
        coverageBefore: m.coverageBefore,
      })),
    },
    method: {
      name: "parametric bootstrap of prediction errors",
      options: { replicates, counts: [...counts], ahead, first, spacing, level, seed },
      citations: ["Efron B, Tibshirani RJ (1993) An Introduction to the Bootstrap, Chapman & Hall"],
    },
    basis: {
      used: replicates - failed,
      leftOut: failedReplicates(failed),
      of: "simulated cohorts",
    },
    diagnostics: { failed },
    notices: bootstrapNotices(failed, replicates),
  };
}
