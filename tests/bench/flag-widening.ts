import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import { countOpenings } from "../../src/flags/animal-day/episode-rule.js";
import { defaultCalibration } from "../../src/flags/budget/default-calibration.js";
import { thresholdsFor } from "../../src/flags/budget/false-flag-budget.js";
import { isJudged, watchedStatistics, watchGroup } from "../../src/flags/watch/watch-group.js";
import { type Exponents, exponentsFor, widening } from "../../src/flags/watch/widening.js";
import { simulateCohort, trainingDesigns } from "./simulated-cohorts.js";

/**
 * Finds the exponents of `widening`: one threshold shall name equally many healthy
 * animals in every kind of weighing. On training groups of twelve kinds the
 * statistic "slowed gain" is kept as it is before widening, with what the group
 * was estimated to be that day; then the exponents are moved, one at a time and by
 * shrinking steps, to make the log ratios of realised to wanted rate small (sum of
 * squares, and the fourth power of the worst). Starts from the exponents that
 * ship. None of these groups is used where the rates are measured. The seed stands
 * here since before the first run.
 *
 *   npm run bench flag-widening [animals] [groups of each kind]
 */
const SEED = 9903;
const animals = Number(process.argv[2] ?? 11);
const groups = Number(process.argv[3] ?? (animals > 15 ? 130 : 300));
const budgets = [1, 2, 5];
const keys = ["share", "walk", "slope", "known"] as const;
const began = Date.now();

/** One animal: the statistic before widening, its features, and the strongest other one per budget. */
interface Run {
  readonly ratio: number[];
  readonly features: number[][];
  readonly others: number[][];
}

const thresholds = budgets.map((b) => thresholdsFor(defaultCalibration, b, animals));
const root = seededRandom(SEED);
const collected = Object.entries(trainingDesigns).map(([name, design], k) => {
  const runs: Run[] = [];
  for (let r = 0; r < groups; r++) {
    const random = root.split(animals * 1_000_000 + (k + 1) * 10_000 + r);
    const cohort = simulateCohort({ ...design, animals, days: 63 }, random);
    const own = cohort.animals.map(
      (): Run => ({
        ratio: [],
        features: keys.map(() => []),
        others: budgets.map(() => []),
      }),
    );
    const meanKnown = cohort.animals.map((a) => {
      let sum = 0;
      return Array.from(a.knownVariance, (v, i) => {
        sum += v;
        return sum / (i + 1);
      });
    });
    watchGroup(cohort.animals, 80, {}, (seen, { parameters: p, animals: size }) => {
      if (!isJudged(seen.statistics)) return;
      const run = own[seen.animal]!;
      const known = meanKnown[seen.animal]![seen.index]!;
      run.ratio.push(zero(seen.statistics["slowed gain"]) * widening(p, size, known));
      run.features[0]!.push(p.persistentShare - 0.1);
      run.features[1]!.push(Math.log(p.walkSd / p.noiseSd / 0.07));
      run.features[2]!.push(Math.log(p.slopeSd / 0.0008));
      run.features[3]!.push(Math.log1p(known / p.noiseSd ** 2));
      thresholds.forEach((t, b) => {
        let most = 0;
        for (const kind of watchedStatistics) {
          if (kind !== "slowed gain") most = Math.max(most, zero(seen.statistics[kind]) / t[kind]);
        }
        run.others[b]!.push(most);
      });
    });
    runs.push(...own);
  }
  const weeks = runs.reduce((sum, run) => sum + run.ratio.length, 0) / 7;
  console.log(name, Math.round(weeks), "healthy animal-weeks");
  return { name, runs, weeks };
});

const start = exponentsFor(animals);
let best: Exponents = start;
let bestLoss = look(start).loss;
const startLoss = bestLoss;
for (let step = 0.08; step > 0.015; ) {
  let moved = false;
  for (const key of keys) {
    for (const sign of [1, -1]) {
      const next = { ...best, [key]: best[key] + sign * step };
      const { loss } = look(next);
      if (loss < bestLoss) {
        best = next;
        bestLoss = loss;
        moved = true;
        break;
      }
    }
  }
  if (!moved) step /= 2;
}
const report = {
  bench: "flag-widening",
  date: new Date().toISOString().slice(0, 10),
  machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
  seed: SEED,
  seconds: Math.round((Date.now() - began) / 1000),
  animals,
  groupsOfEachKind: groups,
  shipped: { exponents: start, loss: startLoss, ratios: look(start).ratios },
  best: { exponents: best, loss: bestLoss, ratios: look(best).ratios },
};
console.log(JSON.stringify(report, null, 1));
writeFileSync(
  fileURLToPath(new URL(`./results/flag-widening-${animals}.json`, import.meta.url)),
  `${JSON.stringify(report, null, 2)}\n`,
);

function zero(x: number): number {
  return Number.isNaN(x) ? 0 : x;
}

/** Ratios of realised to wanted rate by kind and budget, each budget with its own best threshold. */
function look(exponents: Exponents) {
  let loss = 0;
  const ratios: Record<string, number[]> = {};
  const scaled = collected.map(({ runs }) =>
    runs.map((run) =>
      run.ratio.map((v, i) => {
        let log = 0;
        for (let f = 0; f < keys.length; f++) log += exponents[keys[f]!] * run.features[f]![i]!;
        return v / Math.exp(log);
      }),
    ),
  );
  budgets.forEach((budget, b) => {
    const at = (threshold: number) =>
      collected.map(({ runs, weeks }, k) => {
        let openings = 0;
        runs.forEach((run, i) => {
          const others = run.others[b]!;
          const strongest = scaled[k]![i]!.map((v, j) => Math.max(v / threshold, others[j]!));
          openings += countOpenings(strongest);
        });
        return Math.log(Math.max(0.5, openings) / weeks / (budget / 100));
      });
    let low = 0.8;
    let high = 8;
    for (let i = 0; i < 9; i++) {
      const middle = 0.5 * (low + high);
      const logs = at(middle);
      if (Math.max(...logs) + Math.min(...logs) > 0) low = middle;
      else high = middle;
    }
    const logs = at(0.5 * (low + high));
    loss += logs.reduce((s, x) => s + x * x, 0);
    loss += 2 * (Math.max(...logs) ** 4 + Math.min(...logs) ** 4);
    collected.forEach(({ name }, k) => {
      ratios[name] = [...(ratios[name] ?? []), Number(Math.exp(logs[k]!).toFixed(3))];
    });
  });
  return { loss: Number(loss.toFixed(4)), ratios };
}
