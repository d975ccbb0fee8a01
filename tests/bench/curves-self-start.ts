/**
 * Does the self-start find the optimum? 10,000 simulated series a curve: the
 * sum of squares of `fitCurve` against the lowest of a 20-start search that
 * includes the true parameters (relative 1e-6), on the series whose true design
 * identifies the curve. Run: tsx tests/bench/curves-self-start.ts [count] [curve]
 */
import { type CurveName, growthCurves } from "../../src/growth/curve-catalogue.js";
import { fitCurve } from "../../src/growth/fit-curve.js";
import { designIdentifies, searchedRss, simulateSeries } from "./curve-simulations.js";
import { record } from "./curves-record.js";

const count = Number(process.argv[2] ?? 10000);
const only = process.argv[3];
const firstSeed = 20261125;
const rows: Record<string, unknown>[] = [];
for (const name of Object.keys(growthCurves) as CurveName[]) {
  if (only !== undefined && only !== name) continue;
  let identified = 0;
  let reached = 0;
  let better = 0;
  let refused = 0;
  let others = 0;
  let statusOnly = 0;
  let fitMs = 0;
  const missed: number[] = [];
  for (let i = 0; i < count; i++) {
    const seed = firstSeed + i;
    const series = simulateSeries(name, seed);
    if (series === null) continue;
    const known = designIdentifies(series);
    const begin = performance.now();
    const fit = fitCurve({ ages: series.ages, masses: series.masses }, { curve: name, origin: 0 });
    fitMs += performance.now() - begin;
    if (!known) {
      others++;
      if (!fit.value.converged) statusOnly++;
      continue;
    }
    identified++;
    const best = searchedRss(series, seed);
    // Where the sum of squares keeps falling towards infinity or the edge of the
    // domain, the fit refuses; how low it got still counts for the self-start.
    const rss = fit.value.rss ?? (fit.diagnostics["lastRss"] as number | null) ?? Infinity;
    if (rss <= best * (1 + 1e-6)) reached++;
    else missed.push(seed);
    if (rss < best * (1 - 1e-6)) better++;
    if (!fit.value.converged) refused++;
  }
  const row = {
    curve: name,
    identified,
    reached,
    share: identified === 0 ? null : Number((reached / identified).toFixed(5)),
    betterThanSearch: better,
    notConverged: refused,
    notIdentifiedDesigns: others,
    ofThoseStatusOnly: statusOnly,
    microsecondsAFit: Number(((1000 * fitMs) / (identified + others)).toFixed(1)),
    missedSeeds: missed.slice(0, 60),
  };
  rows.push(row);
  console.log(JSON.stringify(row));
  // Written after every curve, so that a run cut short leaves what it has.
  if (count >= 10000) {
    record(
      only === undefined ? "curves-self-start" : `curves-self-start-${only}`,
      { series: count, firstSeed, needed: 0.995 },
      rows,
    );
  }
}
