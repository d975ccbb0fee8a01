import { type LongWork, stopIfCancelled } from "../../core/long-work.js";
import { seededRandom } from "../../core/random.js";
import type { Result } from "../../core/result.js";
import { UsageError } from "../../core/usage-error.js";
import type { StudySeries } from "../../series/animal-series.js";
import { countOpenings } from "../animal-day/episode-rule.js";
import { causalPhases } from "../watch/causal-phases.js";
import { type PerStatistic, type WatchState, watchGroup } from "../watch/watch-group.js";
import { watchedSpecies } from "../watch/watch-study.js";
import { budgetShares, type FlagCalibration, type RealisedRate } from "./false-flag-budget.js";
import { healthyRuns } from "./healthy-runs.js";
import { simulateHealthyGroup } from "./simulate-healthy-group.js";
import { type HealthyRun, strongest, thresholdsForBudget } from "./thresholds-for-budget.js";

export interface CalibrateOptions extends LongWork {
  readonly species: string;
  /** Groups drawn to find the thresholds (half as many more measure them). Default 200. */
  readonly groups?: number;
  /** A calibration made earlier for the same study: handed back when it fits, so nothing is redone. */
  readonly cached?: FlagCalibration;
}

const budgets = [0.5, 1, 2, 5, 10] as const;

/**
 * Finds thresholds for a study's own animals: healthy groups are drawn from the
 * model fitted to the study, on the study's own weighing days, ages and stated
 * errors; each group is re-estimated and watched day by day as the real one is,
 * and the thresholds are set so that all signals from weighings together open the
 * wanted number of episodes. The animals of the study that truly did badly widen
 * the fitted model, so the thresholds lean to fewer flags. What the thresholds then
 * give is measured on half as many fresh groups and comes with it.
 *
 * @throws UsageError when the species has fewer than 4 animals that were weighed.
 * @example (await calibrateFlags(series, { species: "sea otter", seed: 1 })).value.sizes[0].animals // 21
 */
export async function calibrateFlags(
  study: StudySeries,
  options: CalibrateOptions,
): Promise<Result<"calibrate-flags", FlagCalibration>> {
  const seed = options.seed ?? 1;
  const groups = options.groups ?? 200;
  const watched = watchedSpecies(study, { phaseOn: causalPhases(study) }).find(
    (s) => s.species === options.species,
  );
  const animals = (watched?.animals ?? []).filter((a) => a.day.length >= 4);
  if (animals.length < 4) {
    throw new UsageError({
      needed: "at least 4 animals of the species with 4 weighed days",
      came: `${animals.length} of "${options.species}"`,
      where: "calibrateFlags",
      todo: "Use the calibration that ships.",
    });
  }
  const world = `${options.species}: ${animals.length} animals on their own ${animals.reduce((n, a) => n + a.day.length, 0)} weighing days, model fitted to them, ${groups} groups`;
  const { cached } = options;
  const reuse = cached !== undefined && cached.world === world && cached.seed === seed;
  const value = reuse ? cached : await calibrate();
  return {
    kind: "calibrate-flags",
    schema: 1,
    value,
    method: {
      name: "Simulation that draws and re-estimates the group",
      options: { species: options.species, groups, seed, shares: budgetShares, reused: reuse },
      citations: [],
    },
    basis: { used: animals.length, leftOut: [], of: "animals" },
    diagnostics: {},
    notices: [],
  };

  async function calibrate(): Promise<FlagCalibration> {
    let last: WatchState | null = null;
    const lastDay = Math.max(...animals.map((a) => a.day.at(-1)!));
    watchGroup(animals, lastDay, {}, (_, state) => {
      last = state;
    });
    const state = last as WatchState | null;
    const model = {
      variation: state!.variation,
      levelSd: 0.1,
      expectedGain: state!.expectedGain,
    };
    // Thresholds are found on the first groups; what they give is measured on the others.
    const fresh = Math.ceil(groups / 2);
    const byGroup: HealthyRun[][] = [];
    const root = seededRandom(seed);
    for (let g = 0; g < groups + fresh; g++) {
      stopIfCancelled(options.signal);
      options.onProgress?.({
        done: g,
        total: groups + fresh,
        doing: "healthy groups drawn and watched",
      });
      const drawn = simulateHealthyGroup(animals, model, root.split(g));
      byGroup.push(healthyRuns(drawn, lastDay).map(({ run }) => run));
      // Lets a signal to cancel arrive, and progress be shown.
      if (g % 4 === 3) await new Promise((resume) => setImmediate(resume));
    }
    const runs = byGroup.slice(0, groups).flat();
    const thresholds = budgets.map((per100Weeks) => ({
      per100Weeks,
      values: thresholdsForBudget(runs, budgetShares, per100Weeks / 100).thresholds,
    }));
    return {
      kind: "flag-calibration",
      world,
      seed,
      sizes: [{ animals: animals.length, thresholds }],
      realised: thresholds.map(({ per100Weeks, values }) =>
        realisedRate(byGroup.slice(groups), animals.length, per100Weeks, values),
      ),
    };
  }
}

/** Openings in fresh healthy groups with given thresholds. */
function realisedRate(
  groups: readonly (readonly HealthyRun[])[],
  animals: number,
  per100Weeks: number,
  thresholds: PerStatistic,
): RealisedRate {
  const counted = groups.map((own) => ({
    weeks: own.reduce((n, r) => n + r.judgedDays, 0) / 7,
    openings: own.reduce((n, r) => n + countOpenings(strongest(r, thresholds)), 0),
  }));
  const weeks = counted.reduce((n, c) => n + c.weeks, 0);
  const mean = weeks > 0 ? (100 * counted.reduce((n, c) => n + c.openings, 0)) / weeks : 0;
  const rates = counted
    .map((c) => (c.weeks > 0 ? (100 * c.openings) / c.weeks : 0))
    .sort((a, b) => a - b);
  return {
    animals,
    per100Weeks,
    mean: [mean, mean],
    low: rates[Math.floor(0.1 * rates.length)]!,
    high: rates[Math.floor(0.9 * rates.length)]!,
  };
}
