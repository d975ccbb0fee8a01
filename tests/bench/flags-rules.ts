import { appendFileSync, existsSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import { replayFlags } from "../../src/flags/replay-flags.js";
import {
  type AnimalCount,
  countOpeningsByRule,
  ratePer100Weeks,
} from "./count-openings-by-rule.js";
import { healthyFacility, type Pages } from "./healthy-facility.js";
import {
  daysToDetection,
  onsetDays,
  summariseDelays,
  type TroubleName,
  troubles,
} from "./underfed-from-a-day.js";
import { writeShipped } from "./write-shipped.js";

/**
 * How often every rule names a healthy animal: invented nurseries in which nobody is
 * ill, replayed day by day at the default limits and a budget of 2; and how soon
 * they find an animal that from a given day on eats less, refuses, or is not fed.
 * Writes the results and `src/flags/budget/measured-rule-rates.ts`, which the page quotes.
 * The rules were worked on with the seeds 41_101 and 41_102; the seeds below stood
 * here before the first run and are used for nothing else.
 *
 * The nursery is made by the generator of the demo study, which was replaced on 26 November
 * 2026: results before and after are of different worlds. A first run in the new one named a
 * missed feed in 6.1 of 100 healthy weeks, every one of them a night's rest newly ordered;
 * the rule was mended on the seeds of tuning. What is left of "eaten below plan" are days on
 * which the generator's animals leave 40 % of each feed, when eight feeds become five.
 *
 * Each nursery's pages are one piece, kept in the system's folder for temporary files: a run
 * that is stopped goes on where it stood, "anew" throws the pieces away, and with pages and
 * a seed one piece alone is made.
 *
 *   npm run bench flags-rules [on|anew] [pages] [seed]
 */
const [, , from = "anew", onlyPages, onlySeed] = process.argv;
const SEEDS = [61_301, 61_302, 61_303, 61_304, 61_305];
const PAGES: readonly Pages[] = ["full", "demo", "tired"];
const keptIn = join(tmpdir(), "gramline-flags-rules.jsonl");
if (from === "anew") rmSync(keptIn, { force: true });
const sums = ["list", "weighings", "danger", "practice"] as const;

/** One nursery's pages, replayed; of full ones also how soon each trouble is found. */
interface Piece {
  readonly pages: Pages;
  readonly seed: number;
  /** Processor time, seconds. */
  readonly seconds: number;
  readonly counts: readonly AnimalCount[];
  readonly found: Readonly<Partial<Record<TroubleName, readonly { days: number | null }[]>>>;
}

const pieces: Piece[] = existsSync(keptIn)
  ? readFileSync(keptIn, "utf8")
      .split("\n")
      .flatMap((line) => (line === "" ? [] : [JSON.parse(line) as Piece]))
  : [];

function pieceOf(pages: Pages, seed: number): Piece {
  const kept = pieces.find((p) => p.pages === pages && p.seed === seed);
  if (kept !== undefined) return kept;
  const before = process.cpuUsage();
  const study = healthyFacility(seed, pages);
  const replay = replayFlags(study, { falseFlagsPer100AnimalWeeks: 2 });
  const found: Partial<Record<TroubleName, readonly { days: number | null }[]>> = {};
  if (pages === "full") {
    const onset = onsetDays(study, replay, seededRandom(seed).split(77));
    for (const name of Object.keys(troubles) as TroubleName[])
      found[name] = daysToDetection(study, onset, name);
  }
  const counts = countOpeningsByRule(study, replay);
  const used = process.cpuUsage(before);
  const seconds = Math.round((used.user + used.system) / 1e5) / 10;
  const piece: Piece = { pages, seed, seconds, counts, found };
  appendFileSync(keptIn, `${JSON.stringify(piece)}\n`);
  pieces.push(piece);
  console.log(pages, seed, `${seconds} s`);
  return piece;
}

if (onlyPages !== undefined) {
  pieceOf(onlyPages as Pages, Number(onlySeed));
  process.exit(0);
}

const worlds = PAGES.map((pages) => {
  const counts: AnimalCount[] = SEEDS.flatMap((seed) => pieceOf(pages, seed).counts);
  const names = [...new Set(counts.flatMap((c) => Object.keys(c.openings)))];
  const rules = names.filter((n) => !n.includes(",")).sort();
  const places = [...new Set(counts.flatMap((c) => Object.keys(c.weeksOf)))].sort();
  const settled = sums.map((name) => [name, ratePer100Weeks(afterArrival(counts), name)]);
  return {
    pages,
    animals: counts.length,
    all: Object.fromEntries(rules.map((n) => [n, ratePer100Weeks(counts, n)])),
    afterArrival: Object.fromEntries(settled),
    byPlace: Object.fromEntries(
      places.map((place) => [
        place,
        Object.fromEntries(rules.map((n) => [n, ratePer100Weeks(counts, n, place).per100Weeks])),
      ]),
    ),
  };
});

/** The same counts without the days of the arrival phase, whose exam finds the newly arrived cold. */
function afterArrival(counts: readonly AnimalCount[]): AnimalCount[] {
  const place = "phase arrival";
  return counts.map((c) => ({
    ...c,
    weeks: c.weeks - (c.weeksOf[place] ?? 0),
    openings: Object.fromEntries(
      Object.entries(c.openings).map(([name, n]) => [
        name,
        n - (c.openings[`${name}, ${place}`] ?? 0),
      ]),
    ),
  }));
}

const delays = Object.fromEntries(
  (Object.keys(troubles) as TroubleName[]).map((name) => [
    name,
    summariseDelays(pieces.flatMap((p) => p.found[name] ?? [])),
  ]),
);
const result = {
  bench: "flags-rules",
  date: new Date().toISOString().slice(0, 10),
  machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
  seeds: SEEDS,
  seconds: Math.round(pieces.reduce((sum, p) => sum + p.seconds, 0)),
  unit: "openings per 100 healthy animal-weeks, with 95 % Monte Carlo limits (animals as clusters)",
  worlds,
  daysToDetection: delays,
};
writeFileSync(
  fileURLToPath(new URL("./results/flags-rules.json", import.meta.url)),
  `${JSON.stringify(result, null, 2)}\n`,
);

const rounded = (r: { readonly per100Weeks: number; readonly limits: readonly number[] }) => ({
  per100Weeks: Number(r.per100Weeks.toFixed(2)),
  low: Number(r.limits[0]!.toFixed(2)),
  high: Number(r.limits[1]!.toFixed(2)),
});
const none = { per100Weeks: 0, limits: [0, 0] };
const shipped = {
  kind: "measured-rule-rates",
  seeds: SEEDS,
  worlds: worlds.map((w) => ({
    pages: w.pages,
    animals: w.animals,
    animalWeeks: w.all["list"]!.animalWeeks,
    ...Object.fromEntries(sums.map((name) => [name, rounded(w.all[name] ?? none)])),
    afterArrival: Object.fromEntries(
      sums.map((name) => [name, rounded(w.afterArrival[name] ?? none)]),
    ),
  })),
};
writeShipped(
  "measured-rule-rates.ts",
  `import type { MeasuredRuleRates } from "./rule-rates.js";

/**
 * How often healthy animals were named, written by the bench \`flags-rules\` and not
 * by hand: invented nurseries replayed day by day at the default limits.
 */
export const measuredRuleRates: MeasuredRuleRates =`,
  shipped,
);
for (const w of worlds) {
  console.log(w.pages, w.animals, "animals");
  console.table(w.all);
}
console.table(delays);
