import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import { countOpenings } from "../../src/flags/animal-day/episode-rule.js";
import { defaultCalibration } from "../../src/flags/budget/default-calibration.js";
import { type RealisedRate, thresholdsFor } from "../../src/flags/budget/false-flag-budget.js";
import { judgedDays, strongest } from "../../src/flags/budget/thresholds-for-budget.js";
import { collectCohort } from "./collect-runs.js";
import { designs } from "./simulated-cohorts.js";

/**
 * Realised false flags on healthy cohorts that the calibration has not seen:
 * 1, 2 and 5 asked for per 100 animal-weeks, with 10 and 25 contemporaries, in
 * the plain run and eight harder ones. Mean over cohorts with its 95 % Monte
 * Carlo limits, and the 10th and 90th centile between cohorts. Seed 71001 showed too few
 * flags after an arrival dip and too many of day-to-day gain, seed 71101 (after these
 * were mended) thresholds a little low for 26 animals, 1.26 times in the worst cell;
 * after that everything was measured on a seed not used before, which stands here
 * since before its first run.
 *
 *   npm run bench flags-realised [cohorts] [animals] [design ...]
 */
const SEED = 71_201;
const cohorts = Number(process.argv[2] ?? 1000);
const sizes = process.argv[3] === undefined ? [11, 26] : [Number(process.argv[3])];
const chosen = process.argv.slice(4);
const names = Object.keys(designs).filter((n) => chosen.length === 0 || chosen.includes(n));
const asked = [1, 2, 5];
const root = seededRandom(SEED);
interface Row {
  readonly asked: number;
  readonly realised: number;
  readonly centile10: number;
  readonly centile90: number;
}
const rows: Row[] = [];
const began = Date.now();

for (const animals of sizes) {
  for (const name of names) {
    const key = animals * 10_000_000 + Object.keys(designs).indexOf(name) * 100_000;
    const rates = asked.map((): number[] => []);
    const thresholds = asked.map((a) => thresholdsFor(defaultCalibration, a, animals));
    let weeks = 0;
    for (let r = 0; r < cohorts; r++) {
      const { runs } = collectCohort({ ...designs[name]!, animals, days: 63 }, root.split(key + r));
      const judged = runs.reduce((sum, run) => sum + judgedDays(run), 0) / 7;
      weeks += judged;
      asked.forEach((_, k) => {
        const openings = runs.reduce(
          (n, run) => n + countOpenings(strongest(run, thresholds[k]!)),
          0,
        );
        rates[k]!.push((100 * openings) / judged);
      });
    }
    asked.forEach((a, k) => {
      const r = rates[k]!;
      const mean = r.reduce((s, x) => s + x, 0) / r.length;
      const sd = Math.sqrt(r.reduce((s, x) => s + (x - mean) ** 2, 0) / (r.length - 1));
      const sorted = r.slice().sort((x, y) => x - y);
      const row = {
        design: name,
        contemporaries: animals - 1,
        asked: a,
        realised: Number(mean.toFixed(3)),
        limits: [
          mean - (1.96 * sd) / Math.sqrt(r.length),
          mean + (1.96 * sd) / Math.sqrt(r.length),
        ].map((x) => Number(x.toFixed(3))),
        ratio: Number((mean / a).toFixed(3)),
        centile10: Number(sorted[Math.floor(0.1 * r.length)]!.toFixed(2)),
        centile90: Number(sorted[Math.floor(0.9 * r.length)]!.toFixed(2)),
        cohorts: r.length,
        animalWeeks: Math.round(weeks),
      };
      rows.push(row);
      console.log(JSON.stringify(row));
    });
    writeFileSync(
      fileURLToPath(new URL(`./results/flags-realised-${sizes.join("-")}.json`, import.meta.url)),
      `${JSON.stringify(
        {
          bench: "flags-realised",
          date: new Date().toISOString().slice(0, 10),
          machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
          seed: SEED,
          seconds: Math.round((Date.now() - began) / 1000),
          rows,
        },
        null,
        2,
      )}\n`,
    );
  }
}

// The span of what was measured, for the page: only from full runs of both sizes.
const results = [11, 26].map((size) => {
  const file = fileURLToPath(new URL(`./results/flags-realised-${size}.json`, import.meta.url));
  return existsSync(file)
    ? (JSON.parse(readFileSync(file, "utf8")) as { seed: number; rows: Row[] })
    : null;
});
const full = results.every(
  (r) =>
    r !== null && r.seed === SEED && r.rows.length === asked.length * Object.keys(designs).length,
);
if (full) {
  const rates = [11, 26].flatMap((animals, i) =>
    asked.map((per100Weeks): RealisedRate => {
      const own = results[i]!.rows.filter((row) => row.asked === per100Weeks);
      const means = own.map((row) => row.realised);
      return {
        animals,
        per100Weeks,
        mean: [Math.min(...means), Math.max(...means)].map((x) => Number(x.toFixed(2))) as [
          number,
          number,
        ],
        low: Math.min(...own.map((row) => row.centile10)),
        high: Math.max(...own.map((row) => row.centile90)),
      };
    }),
  );
  writeFileSync(
    fileURLToPath(new URL("../../src/flags/budget/realised-rates.ts", import.meta.url)),
    `import type { RealisedRate } from "./false-flag-budget.js";

/**
 * What the thresholds that ship gave on fresh healthy groups, written by the bench
 * \`flags-realised\` and not by hand: the span over ${Object.keys(designs).length} kinds of weighing.
 */
export const realisedRates: readonly RealisedRate[] = ${JSON.stringify(rates, null, 2)};
`,
  );
}
