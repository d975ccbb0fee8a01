import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { type HealthyCount, healthyLevels, plantedLevels } from "./watched/level-rates.js";
import type { Kept } from "./watched/nursery-pages.js";
import { plantedDangers } from "./watched/planted-dangers.js";
import { writeShipped } from "./write-shipped.js";

/**
 * How often a healthy animal stands as danger or measure first, on pages fully written
 * and on tired ones; and whether every planted danger stands as danger on the next page.
 * Invented nurseries of 5 animals over 35 days, pages at 06:00 and 20:00. Seeds
 * 14405000 and on, written down before the first run; the rules were worked on with
 * 7140100 to 7140600. A first run with 14390000 and on found 0.94 dangers in 100 healthy
 * weeks on full pages, seven of ten of them silences in the first nights after feeds had
 * been ordered by day alone: a rest that is ordered is none since. A second one with
 * 14395000 and on found 0.19 on full pages (upper limit 0.68) and 2.43 on tired ones
 * (3.56), measure first on 6.2 and 4.8 %, and every danger planted; after it, feeds
 * refused whole count as no feeds, and measured values in notes are read: new seeds.
 *
 *   npm run bench levels [nurseries] [nurseries with dangers]
 */
const SEED = 14_405_000;
const nurseries = Number(process.argv[2] ?? 60);
const planted = Number(process.argv[3] ?? 20);
const began = Date.now();

const sum = (all: readonly HealthyCount[], of: (c: HealthyCount) => number) =>
  all.reduce((total, c) => total + of(c), 0);
const total = (record: Readonly<Record<string, number>>) =>
  Object.values(record).reduce((a, b) => a + b, 0);
const merged = (all: readonly Readonly<Record<string, number>>[]) => {
  const into: Record<string, number> = {};
  for (const one of all)
    for (const [key, n] of Object.entries(one)) into[key] = (into[key] ?? 0) + n;
  return into;
};
const rounded = (x: number) => Number(x.toFixed(2));

const worlds = (["full", "tired"] as const satisfies readonly Kept[]).map((kept, k) => {
  const all = Array.from({ length: nurseries }, (_, i) =>
    healthyLevels(SEED + k * 10_000 + i, kept),
  );
  const weeks = sum(all, (c) => c.weeks);
  const openings = sum(all, (c) => total(c.dangers));
  const pages = sum(all, (c) => c.pages);
  const found = Array.from({ length: planted }, (_, i) =>
    plantedLevels(SEED + 50_000 + k * 10_000 + i, kept),
  ).flat();
  const row = {
    kept,
    healthyAnimalWeeks: Math.round(weeks),
    dangerOpenings: openings,
    dangerPer100Weeks: rounded((100 * openings) / weeks),
    // The upper 95 % limit of a Poisson rate, as chi-squared quantiles give it.
    upTo: rounded((100 * poissonUpper(openings)) / weeks),
    byReason: merged(all.map((c) => c.dangers)),
    dangerPagesPct: rounded((100 * sum(all, (c) => c.dangerPages)) / pages),
    measureFirstPct: rounded((100 * sum(all, (c) => c.measureFirst)) / pages),
    measureBy: merged(all.map((c) => c.measures)),
    goAndLookPct: rounded((100 * sum(all, (c) => c.silent)) / pages),
    firstWeek: {
      animalWeeks: Math.round(sum(all, (c) => c.arrival.weeks)),
      dangers: merged(all.map((c) => c.arrival.dangers)),
    },
    planted: plantedDangers.map((danger) => {
      const own = found.filter((f) => f.danger === danger);
      return { danger, planted: own.length, found: own.filter((f) => f.found).length };
    }),
    missed: found
      .filter((f) => !f.found)
      .map(({ danger, seed, animalId, at }) => ({ danger, seed, animalId, at })),
  };
  console.log(JSON.stringify(row, null, 1));
  return row;
});

/** Upper 97.5 % limit of the mean of a Poisson count, by bisection on its sum. */
function poissonUpper(n: number): number {
  const below = (mean: number) => {
    let term = Math.exp(-mean);
    let out = term;
    for (let i = 1; i <= n; i++) {
      term *= mean / i;
      out += term;
    }
    return out;
  };
  let low = n;
  let high = n + 10 + 6 * Math.sqrt(n + 1);
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (below(middle) > 0.025) low = middle;
    else high = middle;
  }
  return high;
}

const count = (of: readonly Readonly<Record<"planted" | "found", number>>[]) => ({
  planted: of.reduce((n, p) => n + p.planted, 0),
  found: of.reduce((n, p) => n + p.found, 0),
});
const shipped = {
  kind: "measured-level-rates",
  seed: SEED,
  worlds: worlds.map((w) => ({
    pages: w.kept,
    animalWeeks: w.healthyAnimalWeeks,
    dangerPer100Weeks: w.dangerPer100Weeks,
    upTo: w.upTo,
    measureFirstPct: w.measureFirstPct,
    ...count(w.planted),
  })),
};
// Only the whole run is quoted on pages.
if (process.argv[2] === undefined)
  writeShipped(
    "measured-level-rates.ts",
    `import type { MeasuredLevelRates } from "./rule-rates.js";

/**
 * How often healthy animals stood as danger or measure first, written by the bench
 * \`levels\` and not by hand: invented nurseries read page by page at the default limits.
 */
export const measuredLevelRates: MeasuredLevelRates =`,
    shipped,
  );
writeFileSync(
  new URL("./results/levels.json", import.meta.url),
  `${JSON.stringify(
    {
      bench: "levels",
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
      seed: SEED,
      seconds: Math.round((Date.now() - began) / 1000),
      worlds,
    },
    null,
    2,
  )}\n`,
);
