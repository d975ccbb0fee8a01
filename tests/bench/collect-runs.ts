import type { Random } from "../../src/core/random.js";
import type { HealthyRun } from "../../src/flags/budget/thresholds-for-budget.js";
import { watchedStatistics, watchGroup } from "../../src/flags/watch/watch-group.js";
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
  const per = cohort.animals.map(() => watchedStatistics.map((): number[] => []));
  const days = cohort.animals.map((): number[] => []);
  watchGroup(cohort.animals, design.days + 8, {}, (seen) => {
    if (!seen.statistics.some((v) => !Number.isNaN(v))) return;
    seen.statistics.forEach((v, k) => {
      per[seen.animal]![k]!.push(v);
    });
    days[seen.animal]!.push(seen.day);
  });
  return {
    cohort,
    runs: per.map((p) => ({ statistics: p.map((x) => Float64Array.from(x)) })),
    days: days.map((d) => Int32Array.from(d)),
  };
}

/** How the budget is shared among the statistics, in the order of `watchedStatistics`. */
export { budgetShares } from "../../src/flags/budget/false-flag-budget.js";
