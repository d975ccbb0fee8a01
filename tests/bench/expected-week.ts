import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { priorsForWorlds } from "./worlds/priors-for-worlds.js";
import { type TriedWeek, triedWeeks } from "./worlds/weeks-in-world.js";
import { heldOut, weekSeed } from "./worlds/worlds.js";

/**
 * How often a weighing a week ahead lies within the limits of the expected week, in worlds
 * that nothing was tuned on: animals that are well ("goes on as of late" and "as any other of
 * its group"), and one that has gained half of what it should for 5 to 14 days and goes on so.
 * In groups of ten that know nothing, and alone with prior files.
 *
 *   npm run bench expected-week [share]
 */
const share = Number(process.argv[2] ?? 1);
const priors = priorsForWorlds();
const rows = heldOut.flatMap((world, w) =>
  ([10, 1] as const).map((animals) => {
    const key = weekSeed * 1000 + w * 1_000_000 + animals * 10_000;
    const known = animals === 1 ? priors : [];
    const draw = (nurseries: number, from: number, gains: number | null) =>
      Array.from({ length: Math.round(share * nurseries) }, (_, i) =>
        triedWeeks(world, animals, known, key + from + i, gains),
      ).flat();
    const well = draw(animals === 1 ? 120 : 15, 0, null);
    const row = {
      world: world.name,
      animals,
      own: held(well.filter((x) => x.slope === "own")),
      asTheOthers: held(well.filter((x) => x.slope === "mean")),
      halved: held(draw(100, 5_000, 0.5)),
    };
    console.log(JSON.stringify(row));
    return row;
  }),
);
const result = {
  bench: "expected-week",
  date: new Date().toISOString().slice(0, 10),
  machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
  seed: weekSeed,
  rows,
};
if (share === 1)
  writeFileSync(
    fileURLToPath(new URL("./results/expected-week.json", import.meta.url)),
    `${JSON.stringify(result, null, 2)}\n`,
  );

function held(all: readonly TriedWeek[]) {
  const shareOf = (of: (x: TriedWeek) => boolean) =>
    Number((all.filter(of).length / all.length).toFixed(3));
  return { n: all.length, in80: shareOf((x) => x.in80), in95: shareOf((x) => x.in95) };
}
