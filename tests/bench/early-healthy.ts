import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { type EarlyCell, EarlyWorld, noSums } from "./worlds/early-cells.js";
import { earlyRow } from "./worlds/early-rows.js";
import { priorsForWorlds } from "./worlds/priors-for-worlds.js";
import { healthySeed, heldOut } from "./worlds/worlds.js";

/**
 * The healthy part of the bench `early` by itself: openings per 100 judged animal-weeks, days
 * judged and days under an open flag in held-out worlds, alone and in groups of ten, 45
 * nurseries of ten a world. Rows of worlds not asked for stay in the results as they were.
 *
 *   npm run bench early-healthy [world ...]
 */
const nurseriesOfTen = 15;
const cells: readonly EarlyCell[] = [
  { animals: 1, before: "prior file", befalls: [] },
  { animals: 10, before: "prior file", befalls: [] },
  { animals: 10, before: "nothing", befalls: [] },
];
const chosen = process.argv.slice(2);
const priors = { "prior file": priorsForWorlds() };
const path = fileURLToPath(new URL("./results/early-healthy.json", import.meta.url));
heldOut.forEach((world, w) => {
  if (chosen.length > 0 && !chosen.includes(world.name)) return;
  const rows = cells.map((cell, c) => {
    const key = healthySeed * 1000 + w * 1_000_000 + c * 100_000;
    const sums = noSums();
    const nurseries = new EarlyWorld(world, cell, priors, key);
    for (let i = 0; i < (nurseriesOfTen * 10) / cell.animals; i++) nurseries.addHealthy(sums);
    const { found: _, firstThree: __, ...row } = earlyRow(world.name, cell, sums);
    console.log(JSON.stringify(row));
    return row;
  });
  const before = existsSync(path) ? JSON.parse(readFileSync(path, "utf8")) : null;
  const kept: typeof rows = before?.seed === healthySeed ? before.rows : [];
  const all = [...kept.filter((r) => r.world !== world.name), ...rows];
  const result = {
    bench: "early-healthy",
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
    seed: healthySeed,
    nurseriesOfTen,
    rows: heldOut.flatMap((each) => all.filter((r) => r.world === each.name)),
  };
  writeFileSync(path, `${JSON.stringify(result, null, 2)}\n`);
});
