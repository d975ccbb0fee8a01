import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { gainsInWorld } from "./worlds/gains-in-world.js";
import { gainSeed, heldOut } from "./worlds/worlds.js";

/**
 * How often the 95 % interval of a gain over 7 and over 14 days (the gain in a feed
 * conversion) holds the true one, in worlds that nothing was tuned on.
 *
 *   npm run bench gain-coverage [nurseries of ten a world]
 */
const nurseries = Number(process.argv[2] ?? 40);
const rows = heldOut.flatMap((world, w) =>
  [7, 14].map((days) => {
    const found = gainsInWorld(world, days, nurseries, gainSeed * 1000 + w * 10_000 + days * 100);
    const row = {
      world: world.name,
      days,
      windows: found.windows,
      heldPct: Number((100 * found.held).toFixed(1)),
      seByNursery: Number((100 * found.heldSe).toFixed(1)),
      independentPct: Number((100 * found.independent).toFixed(1)),
      wider: Number(found.wider.toFixed(2)),
    };
    console.log(JSON.stringify(row));
    return row;
  }),
);

writeFileSync(
  fileURLToPath(new URL("./results/gain-coverage.json", import.meta.url)),
  `${JSON.stringify(
    {
      bench: "gain-coverage",
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
      seed: gainSeed,
      nurseriesOfTen: nurseries,
      rows,
    },
    null,
    2,
  )}\n`,
);
