import type { Random } from "../../src/core/random.js";
import { healthyRuns } from "../../src/flags/budget/healthy-runs.js";
import type { HealthyRun } from "../../src/flags/budget/thresholds-for-budget.js";
import { type CohortDesign, type SimulatedCohort, simulateCohort } from "./simulated-cohorts.js";

export interface CollectedCohort {
  readonly cohort: SimulatedCohort;
  /** Per animal: statistics on its judged days, and the day numbers. */
  readonly runs: readonly HealthyRun[];
  readonly days: readonly Int32Array[];
}

/** Draws one cohort and watches it day by day. */
export function collectCohort(design: CohortDesign, random: Random): CollectedCohort {
  const cohort = simulateCohort(design, random);
  const kept = healthyRuns(cohort.animals, design.days + 8);
  return { cohort, runs: kept.map((k) => k.run), days: kept.map((k) => k.days) };
}

/** How the budget is shared among the statistics. */
export { budgetShares } from "../../src/flags/budget/false-flag-budget.js";
