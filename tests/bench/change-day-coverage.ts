import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { type ChangeDayCoverage, groupCoverage } from "./change-day-held.js";

/**
 * How often the 90 % interval of the day of a slowed gain holds the true day
 * (`change-day-held` says in which worlds and with which seeds). About two
 * minutes; groups per cell as the first argument, default 400.
 */
const groups = Number(process.argv[2] ?? 400);
const rows: ChangeDayCoverage[] = [];
for (const world of ["plain", "gut fill", "everything"]) {
  for (const animals of [1, 11, 26]) {
    for (const from of ["day 21", "anywhere"] as const) {
      rows.push(...groupCoverage(world, animals, groups, from));
    }
  }
}
console.table(
  rows.map((r) => ({ ...r, held: r.held.toFixed(3), meanWidthD: r.meanWidthD.toFixed(1) })),
);
writeFileSync(
  fileURLToPath(new URL("./results/change-day-coverage.json", import.meta.url)),
  `${JSON.stringify({ date: new Date().toISOString().slice(0, 10), machine: cpus()[0]?.model ?? "?", seeds: [20261, 20264], groups, level: 0.9, rows }, null, 2)}\n`,
);
