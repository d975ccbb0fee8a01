import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { groupThresholds } from "../../src/flags/watch/short-together.js";
import { type GroupDesign, namedDays, watchTogether } from "./worlds/groups-in-world.js";
import { priorsForWorlds } from "./worlds/priors-for-worlds.js";
import { calibrating, heldOut, togetherSeed, trainingSeed } from "./worlds/worlds.js";

/**
 * A season whose animals are all short together: how often a healthy season is named, in
 * 100 group-weeks, and how many are named where all gain 25 % less from one day on (by day
 * 14), or from the season's first day (by day 21). Both ways of naming a season count, in the
 * healthy and in the short ones.
 *
 * Rows of worlds not asked for stay in the results as they were; `training` measures the world
 * for calibrating and writes nothing.
 *
 *   npm run bench short-together [seasons a row] [training | world ...]
 */
const seasons = Number(process.argv[2] ?? 60);
const tuning = process.argv[3] === "training";
const chosen = tuning ? [] : process.argv.slice(3);
const designs: readonly GroupDesign[] = [
  { size: 10, before: "nothing" },
  { size: 10, before: "two seasons" },
  { size: 10, before: "prior file" },
  { size: 4, before: "prior file" },
];
const priors = priorsForWorlds();
const seed = tuning ? trainingSeed : togetherSeed;
const rows: { readonly world: string }[] = [];
for (const [w, world] of (tuning ? [calibrating] : heldOut).entries()) {
  if (chosen.length > 0 && !chosen.includes(world.name)) continue;
  for (const [c, design] of designs.entries()) {
    const key = seed * 1000 + w * 1_000_000 + c * 100_000;
    const many = Array.from({ length: seasons }, (_, i) => i);
    const healthy = many.map((i) => watchTogether(world, design, priors, key + i));
    const weeks = healthy.reduce((n, r) => n + r.days.length, 0) / 7;
    const named = healthy.map(namedDays);
    const openings = {
      sinceADay: named.reduce((n, r) => n + r.sinceADay.length, 0),
      fromTheFirst: named.reduce((n, r) => n + r.fromTheFirst.length, 0),
    };
    const found = (day: (i: number) => number, by: number, from: number) => {
      const short = many.filter((i) => {
        const allFrom = { day: day(i), share: 0.75 };
        const run = watchTogether(world, design, priors, key + from + i, allFrom, day(i) + by);
        return Object.values(namedDays(run)).some((days) => days.some((d) => d >= day(i)));
      });
      return Number((short.length / seasons).toFixed(3));
    };
    const laterDay = (i: number) => 30 + (i % 14);
    const row = {
      world: world.name,
      animals: design.size,
      before: design.before,
      seasons,
      weeks: Math.round(weeks),
      openings,
      per100: Number(((100 * (openings.sinceADay + openings.fromTheFirst)) / weeks).toFixed(2)),
      fromADayBy14: found(laterDay, 14, 40_000),
      fromTheFirstBy21: found(() => 0, 21, 50_000),
    };
    rows.push(row);
    console.log(JSON.stringify(row));
  }
}
if (!tuning) {
  const path = fileURLToPath(new URL("./results/short-together.json", import.meta.url));
  const before = existsSync(path) ? JSON.parse(readFileSync(path, "utf8")) : null;
  const kept: typeof rows = before?.seed === seed ? before.rows : [];
  const done = new Set(rows.map((r) => r.world));
  const all = [...kept.filter((r) => !done.has(r.world)), ...rows];
  const result = {
    bench: "short-together",
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
    seed,
    thresholds: groupThresholds,
    rows: heldOut.flatMap((w) => all.filter((r) => r.world === w.name)),
  };
  writeFileSync(path, `${JSON.stringify(result, null, 2)}\n`);
}
