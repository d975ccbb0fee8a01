import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { type ForecastDesign, forecastsOf, type Tried } from "./worlds/forecasts-in-world.js";
import { priorsForWorlds } from "./worlds/priors-for-worlds.js";
import { forecastSeed, heldOut, training, trainingSeed } from "./worlds/worlds.js";

/**
 * How often 95 % limits of a forecast hold in worlds that nothing was tuned on, for animals
 * forecast from what was weighed by then: the mass 14 days on, a weighing about then, and
 * the days to a target ("not reached by the end of the record" scored too). The
 * interval score beside that of one who knows the world's law and the nursery's numbers.
 *
 * Rows of worlds not asked for stay in the results as they were.
 *
 *   npm run bench forecast-coverage [nurseries a row] [training | world ...]
 */
const nurseries = Number(process.argv[2] ?? 60);
const tuning = process.argv[3] === "training";
const designs: readonly ForecastDesign[] = [
  { size: 1, before: "nothing" },
  { size: 1, before: "prior file" },
  { size: 1, before: "two seasons" },
  { size: 3, before: "nothing" },
  { size: 3, before: "prior file" },
  { size: 10, before: "nothing" },
  { size: 10, before: "prior file" },
];
const began = Date.now();
const priors = priorsForWorlds();
const chosen = tuning ? [] : process.argv.slice(3);
const path = fileURLToPath(new URL("./results/forecast-coverage.json", import.meta.url));
const rows: { readonly world: string }[] = [];
const worlds = tuning ? [training] : heldOut;
const seed = tuning ? trainingSeed : forecastSeed;

for (const [w, world] of worlds.entries()) {
  if (chosen.length > 0 && !chosen.includes(world.name)) continue;
  for (const [c, design] of designs.entries()) {
    const count = Math.ceil(nurseries / Math.sqrt(design.size));
    const all = Array.from({ length: count }, (_, i) =>
      forecastsOf(world, design, priors, seed * 1000 + w * 1_000_000 + c * 100_000 + i),
    ).flat();
    const row = {
      world: world.name,
      animals: design.size,
      before: design.before,
      forecasts: all.length,
      mass: summary(all.map((f) => f.mass)),
      massScore: ratio(
        all.map((f) => f.mass),
        all.map((f) => f.trueMass),
      ),
      trueMassHeld: summary(all.map((f) => f.trueMass)).held,
      weighing: summary(all.flatMap((f) => f.weighing ?? [])),
      refused: percent(all.filter((f) => f.days === null).length / all.length),
      days: summary(all.flatMap((f) => f.days ?? [])),
      daysScore: ratio(
        all.flatMap((f) => f.days ?? []),
        all.flatMap((f) => (f.days === null ? [] : [f.trueDays])),
      ),
      trueDaysHeld: summary(all.map((f) => f.trueDays)).held,
    };
    rows.push(row);
    console.log(JSON.stringify(row));
  }
}

function summary(all: readonly Tried[]) {
  const mean = (of: (t: Tried) => number) => all.reduce((s, t) => s + of(t), 0) / all.length;
  return {
    held: percent(mean((t) => (t.held ? 1 : 0))),
    above: percent(mean((t) => (!t.held && t.came > t.lower ? 1 : 0))),
    width: Number(mean((t) => t.upper - t.lower).toPrecision(3)),
    off: Number(mean((t) => t.off).toPrecision(2)),
  };
}

function ratio(own: readonly Tried[], truth: readonly Tried[]): number {
  const total = (all: readonly Tried[]) => all.reduce((s, t) => s + t.score, 0);
  return Number((total(own) / total(truth)).toFixed(3));
}

function percent(share: number): number {
  return Number((100 * share).toFixed(1));
}

if (!tuning) {
  const before: { rows: { readonly world: string }[] } = existsSync(path)
    ? JSON.parse(readFileSync(path, "utf8"))
    : { rows: [] };
  const done = new Set(rows.map((r) => r.world));
  const all = [...before.rows.filter((r) => !done.has(r.world)), ...rows];
  const result = {
    bench: "forecast-coverage",
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
    seed,
    nurseriesOfOne: nurseries,
    seconds: Math.round((Date.now() - began) / 1000),
    rows: heldOut.flatMap((w) => all.filter((r) => r.world === w.name)),
  };
  writeFileSync(path, `${JSON.stringify(result, null, 2)}\n`);
}
