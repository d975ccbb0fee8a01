/**
 * Do 95 % intervals hold the truth in 95 % of cases? 10,000 simulated series of
 * 30 weighings a curve. Profile intervals must lie in 94-96 %; the delta method
 * is reported. Run: tsx tests/bench/curves-coverage.ts [runs]
 */
import { coverageOf, coverageTruths } from "./curve-coverage.js";
import { record } from "./curves-record.js";

const runs = Number(process.argv[2] ?? 10000);
const seed = 7_000_000;
const rows = (Object.keys(coverageTruths) as (keyof typeof coverageTruths)[]).map((name) => {
  const begin = performance.now();
  const row = coverageOf(name, runs, seed);
  console.log(JSON.stringify({ ...row, seconds: Math.round((performance.now() - begin) / 1000) }));
  return row;
});
if (runs >= 10000)
  record("curves-coverage", { runs, points: 30, seed, needed: [0.94, 0.96] }, rows);
