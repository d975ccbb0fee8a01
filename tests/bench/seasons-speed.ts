import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { compareSeasons } from "../../src/seasons/compare-seasons.js";
import { summariseSeasons } from "../../src/seasons/summarise-seasons.js";
import { simulateStudy } from "../seasons/simulated-seasons.js";

/** Time of the seasons room against the number of animals, up to 500: it must grow in line with them. */
const SEED = 20260302;
const window = { fromAgeD: 21, toAgeD: 84 };

const rows = [60, 124, 248, 500].map((animals) => {
  const study = simulateStudy(
    { animals: animals / 4, seasons: 4, animalSd: 9, seasonSd: 3, difference: 0 },
    SEED,
  );
  const time = (work: () => unknown) => {
    work();
    const began = performance.now();
    work();
    return Math.round(performance.now() - began);
  };
  const row = {
    animals,
    compareMs: time(() => compareSeasons(study, { species: "sea otter", window, mixed: false })),
    withMixedModelMs: time(() => compareSeasons(study, { species: "sea otter", window, runs: 0 })),
    summariseMs: time(() => summariseSeasons(study)),
  };
  console.log(JSON.stringify(row));
  return row;
});

const result = {
  bench: "seasons-speed",
  date: new Date().toISOString().slice(0, 10),
  machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
  seed: SEED,
  rows,
};
const file = fileURLToPath(new URL("./results/seasons-speed.json", import.meta.url));
writeFileSync(file, `${JSON.stringify(result, null, 2)}\n`);
console.log(`Written to ${file}`);
