import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import {
  coverageOfShares,
  type LooksPlan,
  rateOfDifferences,
  weekly,
} from "../stats/survival/simulated-looks.js";

/**
 * How often the bootstrap interval of a milestone's curve holds the true share,
 * and how often the log-rank test with drawn times calls like groups different.
 * Seeds stand here since before the first run.
 */
const SEED = 20260520;
const at = [45, 52, 60, 68, 75];
const sets = 1000;
const runs = 400;

const began = Date.now();
const rounded = (xs: readonly number[]) => xs.map((x) => Math.round(1000 * x) / 1000);

const plans: readonly (readonly [string, LooksPlan])[] = [
  ["6 units, weekly looks", { ...weekly, units: 6 }],
  ["12 units, weekly looks", { ...weekly, units: 12 }],
  ["12 units, weekly looks, late entry", { ...weekly, units: 12, latestEntryD: 45 }],
  ["30 units, weekly looks", { ...weekly, units: 30 }],
  ["30 units, weekly looks, late entry", { ...weekly, units: 30, latestEntryD: 45 }],
  ["30 units, daily looks", { ...weekly, units: 30, everyD: 1.5 }],
  ["60 units, looks every 3 weeks", { ...weekly, units: 60, everyD: 21 }],
];
const coverage = plans.map(([name, plan], i) => {
  const { covered, width } = coverageOfShares(plan, {
    at,
    sets,
    runs,
    random: seededRandom(SEED + i),
  });
  console.log(`${name}: ${rounded(covered).join(" ")}`);
  return { name, plan, covered: rounded(covered), width: rounded(width) };
});

const pairs = [
  { name: "6 and 6, all from the start", units: [6, 6], latestEntryD: [0, 0], everyD: [7, 7] },
  { name: "12 and 12, late entry", units: [12, 12], latestEntryD: [45, 45], everyD: [7, 7] },
  { name: "12 and 12, unlike entry", units: [12, 12], latestEntryD: [20, 55], everyD: [7, 7] },
  { name: "12 and 12, unlike looks", units: [12, 12], latestEntryD: [45, 45], everyD: [7, 14] },
  { name: "5 and 15, unlike both", units: [5, 15], latestEntryD: [20, 55], everyD: [7, 14] },
] as const;
const differ = pairs.map((pair, i) => {
  const rate = rateOfDifferences({
    ...pair,
    runs: 2000,
    imputations: 100,
    random: seededRandom(SEED + 100 + i),
  });
  console.log(`${pair.name}: called different ${rate}`);
  return { ...pair, runs: 2000, differs: rate, se: Math.sqrt((rate * (1 - rate)) / 2000) };
});

const result = {
  bench: "milestones-coverage",
  date: new Date().toISOString().slice(0, 10),
  machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
  seed: SEED,
  what: "true share of a normal time (mean 60 d, sd 12 d), 10 % lost by day 60; interval at 95 %",
  at,
  sets,
  runs,
  coverage,
  logRankDrawnTimes: differ,
  seconds: Math.round((Date.now() - began) / 1000),
};
const file = fileURLToPath(new URL("./results/milestones-coverage.json", import.meta.url));
writeFileSync(file, `${JSON.stringify(result, null, 2)}\n`);
console.log(`Written to ${file}`);
