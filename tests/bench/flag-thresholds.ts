import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import type { CalibratedSize, FlagCalibration } from "../../src/flags/budget/false-flag-budget.js";
import {
  type HealthyRun,
  thresholdsForBudget,
} from "../../src/flags/budget/thresholds-for-budget.js";
import { perStatistic } from "../../src/flags/watch/watched-day.js";
import { budgetShares, collectCohort } from "./collect-runs.js";
import { trainingDesigns } from "./simulated-cohorts.js";

/**
 * Makes the thresholds that ship: training cohorts in twelve kinds of weighing,
 * pooled, for five sizes of group and budgets of 0.5 to 10 false flags per 100
 * healthy animal-weeks. Writes `src/flags/budget/default-calibration.ts`. None of these
 * cohorts, nor their seed, is used where the rates are measured
 * (`flags-realised`, `flags-delay`). The seed stands here since before the first
 * run. The exponents of `widening` are found by the bench `flag-widening`.
 */
const SEED = 20311;
const share = Number(process.argv[2] ?? 1);
const root = seededRandom(SEED);
const sizes: CalibratedSize[] = [];
for (const [animals, cohortsEach] of [
  [5, 200],
  [8, 140],
  [11, 130],
  [16, 80],
  [26, 60],
] as const) {
  const runs: HealthyRun[] = [];
  Object.values(trainingDesigns).forEach((kind, k) => {
    for (let r = 0; r < Math.ceil(cohortsEach * share); r++) {
      const random = root.split(animals * 1_000_000 + k * 10_000 + r);
      runs.push(...collectCohort({ ...kind, animals, days: 63 }, random).runs);
    }
  });
  const thresholds = [0.5, 1, 2, 5, 10].map((per100Weeks) => {
    const found = thresholdsForBudget(runs, budgetShares, per100Weeks / 100);
    console.log(
      animals,
      per100Weeks,
      Object.values(found.thresholds)
        .map((t) => t.toFixed(3))
        .join(" "),
      found.openings,
    );
    const values = perStatistic((kind) => Number(found.thresholds[kind].toPrecision(4)));
    return { per100Weeks, values };
  });
  sizes.push({ animals, thresholds });
}
const calibration: FlagCalibration = {
  kind: "flag-calibration",
  world:
    "groups of 5 to 26 young, 9 weeks of daily weighing, 1.5 % noise in twelve mixtures of independent error, gut fill, day-to-day gain, meals, wet coats, carried and missed weighings",
  seed: SEED,
  sizes,
};
writeFileSync(
  fileURLToPath(new URL("../../src/flags/budget/default-calibration.ts", import.meta.url)),
  `import type { FlagCalibration } from "./false-flag-budget.js";
import { realisedRates } from "./realised-rates.js";

/**
 * Thresholds that ship, written by the bench \`flag-thresholds\` and not by hand:
 * found on simulated healthy groups that were drawn and re-estimated day by day.
 */
export const defaultCalibration: FlagCalibration = ${JSON.stringify(calibration, null, 2).replace(/\n}$/, ",\n  realised: realisedRates,\n}")};
`,
);
