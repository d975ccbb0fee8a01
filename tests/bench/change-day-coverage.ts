import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { type ChangeDayCoverage, changeDaysHeld, groupCoverage } from "./change-day-held.js";
import { writeShipped } from "./write-shipped.js";

/**
 * How often the 90 % interval of the day of a slowed gain holds the true day
 * (`change-day-held` says in which worlds and with which seeds), and what the page says of
 * it. Groups per cell as the first argument.
 */
const groups = Number(process.argv[2] ?? 40);
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
writeShipped(
  "change-days-held.ts",
  `/**
 * How often the 90 % interval of the day of a slowed gain held the true day in simulated
 * groups, in 100: of all looks, and of those of the world, group and day where it did worst.
 * Written by the bench \`change-day-coverage\` and not by hand.
 */
export const changeDaysHeld =`,
  changeDaysHeld(rows),
);
