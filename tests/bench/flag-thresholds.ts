import { budgetShares, type FlagCalibration } from "../../src/flags/budget/false-flag-budget.js";
import { thresholdsForBudget } from "../../src/flags/budget/thresholds-for-budget.js";
import { perStatistic } from "../../src/flags/watch/watched-day.js";
import { priorsForWorlds } from "./worlds/priors-for-worlds.js";
import { type WorldRun, watchNursery } from "./worlds/watch-world.js";
import { drawNursery } from "./worlds/world.js";
import { calibrating, trainingSeed } from "./worlds/worlds.js";
import { writeShipped } from "./write-shipped.js";

/**
 * Makes the thresholds that ship: healthy nurseries of the world for calibrating, every one
 * with parameters of its own, in groups of 1 to 25, knowing nothing, knowing two
 * earlier seasons, or knowing prior files. The statistic is
 * averaged over what is not known, so that one threshold serves what was known before;
 * by size they differ little. Writes
 * `src/flags/budget/default-calibration.ts`. Nothing of `worlds/heldOut` is read.
 *
 *   npm run bench flag-thresholds [share]
 */
const share = Number(process.argv[2] ?? 1);
const began = Date.now();
const priors = priorsForWorlds(8);
const bySize = new Map<number, WorldRun[]>();
const cells = [
  { size: 1, count: 160, before: "nothing" },
  { size: 1, count: 50, before: "two seasons" },
  { size: 1, count: 160, before: "prior file" },
  { size: 3, count: 60, before: "nothing" },
  { size: 3, count: 60, before: "prior file" },
  { size: 10, count: 24, before: "nothing" },
  { size: 10, count: 24, before: "prior file" },
  { size: 25, count: 9, before: "nothing" },
  { size: 25, count: 9, before: "prior file" },
] as const;
for (const [c, { size, count, before }] of cells.entries()) {
  const own: WorldRun[] = [];
  const seasons = before === "two seasons" ? [8, 8, size] : [size];
  for (let r = 0; r < Math.ceil(count * share); r++) {
    const nursery = drawNursery(calibrating, { seasons }, trainingSeed * 1000 + c * 10_000 + r);
    own.push(...watchNursery(nursery, before === "prior file" ? { priors } : {}));
  }
  const alone = own.map((r) => ({
    statistics: { "slowed gain": r.statistics["slowed gain"] },
    judgedDays: r.judgedDays,
  }));
  console.log(
    size,
    before,
    `${Math.round(own.reduce((n, r) => n + r.judgedDays, 0) / 7)} weeks`,
    [1, 2, 5].map((b) =>
      thresholdsForBudget(alone, { "slowed gain": 1 }, b / 100).thresholds["slowed gain"].toFixed(
        2,
      ),
    ),
    `${Math.round((Date.now() - began) / 1000)} s`,
  );
  bySize.set(size, [...(bySize.get(size) ?? []), ...own]);
}
// A statistic that is never judged at a size (level and gain in a group of three) has the
// threshold of the next size up: earlier seasons may come to be compared with.
const byBudget = [0.5, 1, 2, 5, 10].map((b) => ({
  b,
  of: [...bySize.values()].map((runs) => thresholdsForBudget(runs, budgetShares, b / 100)),
}));
const sizes = [...bySize.keys()].map((animals, i) => ({
  animals,
  thresholds: byBudget.map(({ b, of }) => {
    const values = perStatistic((kind) => {
      const judged = of.slice(i).find((x) => x.thresholds[kind] > 1e-6)!;
      return Number(judged.thresholds[kind].toPrecision(3));
    });
    console.log(animals, b, JSON.stringify(values), of[i]!.openings);
    return { per100Weeks: b, values };
  }),
}));
const calibration: FlagCalibration = {
  kind: "flag-calibration",
  world:
    "groups of 1 to 25 young, knowing nothing, two earlier seasons or other nurseries; three growth laws, gain that wanders by 2 to 16 %, gut fill that lasts, daily to twice-weekly weighing, checks at arrival, dips at weaning, missed weeks, heavy tails",
  seed: trainingSeed,
  sizes,
};
writeShipped(
  "default-calibration.ts",
  `import type { FlagCalibration } from "./false-flag-budget.js";

/**
 * Thresholds that ship, written by the bench \`flag-thresholds\` and not by hand:
 * found on simulated healthy nurseries that were watched day by day.
 */
export const defaultCalibration: FlagCalibration =`,
  calibration,
);
