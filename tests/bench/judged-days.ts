import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { daysJudgedByRule } from "./worlds/watch-world.js";
import { drawNursery } from "./worlds/world.js";
import { heldOut, judgedSeed } from "./worlds/worlds.js";

/**
 * On how many of the days in care after the third an animal is judged, in held-out worlds and
 * at each size of group, 115 nurseries of ten or as many animals: from the second weighing
 * after the arrival phase on, for four days after each. Counted by that rule without the
 * watch; `tests/flags/worlds` holds that the watch judges on the same days.
 *
 *   npm run bench judged-days
 */
const nurseriesOfTen = 115;
const rows = heldOut.flatMap((world, w) =>
  [1, 2, 3, 5, 10, 25].map((animals, c) => {
    let judged = 0;
    let inCare = 0;
    for (let i = 0; i < Math.round((nurseriesOfTen * 10) / animals); i++) {
      const key = judgedSeed * 1000 + w * 1_000_000 + c * 100_000 + i;
      for (const a of drawNursery(world, { seasons: [animals] }, key)) {
        judged += daysJudgedByRule(a);
        inCare += (a.day.at(-1) ?? a.arrival) - a.arrival - 2;
      }
    }
    return { world: world.name, animals, judgedPct: Number(((100 * judged) / inCare).toFixed(1)) };
  }),
);
for (const row of rows) console.log(JSON.stringify(row));
const result = {
  bench: "judged-days",
  date: new Date().toISOString().slice(0, 10),
  machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
  seed: judgedSeed,
  nurseriesOfTen,
  rows,
};
const path = fileURLToPath(new URL("./results/judged-days.json", import.meta.url));
writeFileSync(path, `${JSON.stringify(result, null, 2)}\n`);
