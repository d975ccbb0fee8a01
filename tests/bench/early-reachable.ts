import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { countOpenings } from "../../src/flags/animal-day/episode-rule.js";
import { befallings } from "./worlds/early-cells.js";
import { type Knows, TrueWatch } from "./worlds/true-watch.js";
import { daysToFlag } from "./worlds/watch-world.js";
import { calibrating, heldOut, reachableSeed } from "./worlds/worlds.js";

/**
 * How early a slow gainer could be named at all: what one finds who knows a nursery's own
 * numbers, or those of its kind, at the realised 2 false flags in 100 animal-weeks at which
 * the bench `early` reads what the library finds. And how often a season short from its
 * first day could be named by day 21 at 2 false in 100 group-weeks, were nothing else watched.
 *
 *   npm run bench early-reachable [share of the nurseries]
 */
const share = Number(process.argv[2] ?? 1);
const tens = Math.round(60 * share);
const affected = Math.round(400 * share);
const seasons = Math.round(200 * share);
const asked = 2;
const limits = Array.from({ length: 160 }, (_, i) => 0.5 + 0.05 * i);
const rows: object[] = [];
const groups: object[] = [];
heldOut.forEach((world, w) => {
  const key = reachableSeed * 1000 + w * 1_000_000;
  for (const knows of ["this nursery", "its kind"] as const)
    for (const animals of world.name === "hard" ? [1, 2, 3, 5, 10] : [1, 3, 10])
      rows.push(told(animalRow(new TrueWatch(world, knows), world.name, knows, animals, key)));
  for (const [of, kind] of [
    ["its own world", world],
    ["the world for calibrating", calibrating],
  ] as const) {
    const watch = new TrueWatch(world, "its kind", kind);
    groups.push(told(groupRow(watch, world.name, of, key + 800_000)));
  }
  write();
});
/** After every world: a run that is ended leaves those it came to. */
function write(): void {
  if (share !== 1) return;
  const result = {
    bench: "early-reachable",
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
    seed: reachableSeed,
    per100: asked,
    rows,
    shortFromTheFirst: groups,
  };
  const path = fileURLToPath(new URL("./results/early-reachable.json", import.meta.url));
  writeFileSync(path, `${JSON.stringify(result, null, 2)}\n`);
}

function animalRow(watch: TrueWatch, world: string, knows: Knows, animals: number, key: number) {
  const count = Math.round((tens * 10) / animals);
  const healthy = Array.from({ length: count }, (_, i) =>
    watch.animals({ seasons: [animals] }, key + animals * 20_000 + i),
  ).flat();
  const weeks = healthy.reduce((n, r) => n + r.judgedDays, 0) / 7;
  const place = placeOf((limit) => {
    const openings = healthy.reduce((n, r) => n + countOpenings(r.strengths, limit), 0);
    return (100 * openings) / weeks;
  });
  const found = (what: "halved" | "slight") => {
    const { share: gains, waitD } = befallings[what];
    const runs = Array.from({ length: affected }, (_, i) => {
      const one = { animal: 0, fromD: 14 + (i % 21), share: gains };
      const seed = key + animals * 20_000 + 10_000 + i;
      const nursery = { seasons: [animals], affected: one };
      return watch.animals(nursery, seed, waitD).find((r) => r.shortFrom !== null)!;
    });
    return shareAt(place, (limit) => {
      const days = runs.map((r) => delayOf(r, limit));
      return days.filter((d) => d <= waitD).length / affected;
    });
  };
  return {
    world,
    animals,
    knows,
    weeks: Math.round(weeks),
    affected,
    halvedBy14: found("halved"),
    slightBy30: found("slight"),
  };
}

function groupRow(watch: TrueWatch, world: string, knowsKindOf: string, key: number) {
  const many = Array.from({ length: seasons }, (_, i) => i);
  const healthy = many.map((i) => watch.together({ seasons: [10] }, key + i));
  const weeks = healthy.reduce((n, e) => n + e.length, 0) / 7;
  const place = placeOf((limit) => {
    const openings = healthy.reduce((n, e) => n + countOpenings(e, limit), 0);
    return (100 * openings) / weeks;
  });
  const short = many.map((i) => {
    const nursery = { seasons: [10], allFrom: { day: 0, share: 0.75 } };
    return Math.max(0, ...watch.together(nursery, key + 50_000 + i, 21));
  });
  const named = (most: readonly number[]) =>
    shareAt(place, (limit) => most.filter((e) => e >= limit).length / seasons);
  return {
    world,
    knowsKindOf,
    seasons,
    weeks: Math.round(weeks),
    healthyNamedOnce: named(healthy.map((e) => Math.max(0, ...e))),
    shortNamedBy21: named(short),
  };
}

/** Days from the first short day to the first opening after it. */
function delayOf(run: ReturnType<TrueWatch["animals"]>[number], limit: number): number {
  return daysToFlag(run, run.strengths, limit);
}

/** Between which limits the rate falls to what is asked. */
function placeOf(rate: (limit: number) => number) {
  const i = limits.findIndex((limit) => rate(limit) <= asked);
  const [high, low] = [rate(limits[i - 1]!), rate(limits[i]!)];
  return { i, part: (high - asked) / (high - low) };
}

function shareAt({ i, part }: ReturnType<typeof placeOf>, of: (limit: number) => number): number {
  return Number(((1 - part) * of(limits[i - 1]!) + part * of(limits[i]!)).toFixed(3));
}

function told<T extends object>(row: T): T {
  console.log(JSON.stringify(row));
  return row;
}
