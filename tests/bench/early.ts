import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import type { HeldOutRate } from "../../src/flags/budget/false-flag-budget.js";
import { type EarlySums, EarlyWorld, earlyCells, noSums } from "./worlds/early-cells.js";
import { earlyRow, heldOutRates } from "./worlds/early-rows.js";
import { priorsForWorlds } from "./worlds/priors-for-worlds.js";
import { earlySeed, heldOut, training, trainingSeed } from "./worlds/worlds.js";
import { writeShipped } from "./write-shipped.js";

/**
 * How early a slow gainer is named, and how often a healthy one is, in worlds that nothing
 * was tuned on: openings per 100 judged animal-weeks at each number asked, with limits
 * clustered by nursery, and the share found at thresholds moved to a realised rate of 2.
 * A nursery of ten stands for as many nurseries of another size as have ten animals.
 *
 * The run is gone on with where it was left: each call adds nurseries to the cells that have
 * fewest until the minutes are over, and writes after every cell; of worlds that are named into
 * results of their own. `training` measures the training world instead and writes nothing.
 *
 *   npm run bench early [minutes] [nurseries of ten at most] [training | world ...]
 */
const minutes = Number(process.argv[2] ?? 600);
const most = Number(process.argv[3] ?? 115);
const chosen = process.argv.slice(4);
const tuning = chosen[0] === "training";
const until = Date.now() + minutes * 60_000;
const own = chosen.map((name) => `-${name.replaceAll(/\W+/g, "-")}`).join("");
const path = fileURLToPath(new URL(`./results/early${own}.json`, import.meta.url));
const seed = tuning ? trainingSeed : earlySeed;
const atOnce = 5;
const affectedEach = 6;

interface Sums {
  readonly world: string;
  readonly animals: number;
  readonly before: string;
  readonly sums: EarlySums;
}
const before = !tuning && existsSync(path) ? JSON.parse(readFileSync(path, "utf8")) : null;
const known: Sums[] = before?.seed === seed ? before.sums : [];
const made = new Map<number, ReturnType<typeof priorsForWorlds>>();
function priorsTimes(factor: number) {
  const known = made.get(factor) ?? priorsForWorlds(12, factor);
  made.set(factor, known);
  return known;
}
// Made where a cell first asks for them: a run of a few minutes spends none on others.
const priors = {
  get "prior file"() {
    return priorsTimes(1);
  },
  get "20 % low"() {
    return priorsTimes(0.8);
  },
  get "20 % high"() {
    return priorsTimes(1.2);
  },
};
const cells = (tuning ? [training] : heldOut).flatMap((world, w) =>
  earlyCells.map((cell, c) => {
    const found = known.find(
      (k) => k.world === world.name && k.animals === cell.animals && k.before === cell.before,
    );
    const key = seed * 1000 + w * 1_000_000 + c * 100_000 + (tuning ? 500_000_000 : 0);
    return {
      world,
      cell,
      sums: found?.sums ?? noSums(),
      nurseries: new EarlyWorld(world, cell, priors, key),
    };
  }),
);
const tens = ({ cell, sums }: (typeof cells)[number]) =>
  Math.round((sums.nurseries * cell.animals) / 10);
const wanted = cells.filter(
  ({ world }) => tuning || chosen.length === 0 || chosen.includes(world.name),
);
while (Date.now() < until) {
  const next = wanted.filter((c) => tens(c) < most).sort((a, b) => tens(a) - tens(b))[0];
  if (next === undefined) break;
  const { cell, sums, nurseries } = next;
  const count = Math.round((atOnce * 10) / cell.animals);
  for (let i = 0; i < count; i++) nurseries.addHealthy(sums);
  for (const what of cell.befalls)
    for (let i = 0; i < affectedEach * atOnce; i++) nurseries.addAffected(sums, what);
  if (!tuning) write();
}
if (tuning || chosen.length > 0)
  for (const { world, cell, sums } of wanted)
    if (sums.nurseries > 0) console.log(JSON.stringify(earlyRow(world.name, cell, sums)));

function write(): void {
  const done = cells.filter(({ sums }) => sums.nurseries > 0);
  const lines = (rows: readonly object[]) =>
    rows.map((r) => `    ${JSON.stringify(r)}`).join(",\n");
  const head = {
    bench: "early",
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
    seed,
    nurseriesOfTen: Math.min(...done.map(tens)),
  };
  const rows = done.map(({ world, cell, sums }) => earlyRow(world.name, cell, sums));
  const sums = done.map(({ world, cell: { animals, before }, sums }) => ({
    world: world.name,
    animals,
    before,
    sums,
  }));
  const text = JSON.stringify(head, null, 2).slice(0, -2);
  writeFileSync(
    path,
    `${text},\n  "rows": [\n${lines(rows)}\n  ],\n  "sums": [\n${lines(sums)}\n  ]\n}\n`,
  );
  // Only what all kinds and sizes gave is quoted on pages.
  if (done.length === cells.length) shipRates(heldOutRates(rows));
}

function shipRates(rates: readonly HeldOutRate[]): void {
  writeShipped(
    "held-out-rates.ts",
    `import type { HeldOutRate } from "./false-flag-budget.js";

/**
 * What the thresholds that ship gave in invented nurseries on which nothing was tuned, written by
 * the bench \`early\` and not by hand.
 */
export const heldOutRates: readonly HeldOutRate[] =`,
    rates,
  );
}
