import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import {
  rateOfDecisions,
  rateOfWeeklyLooks,
  simulatedArrivals,
} from "../seasons/simulated-seasons.js";

/**
 * Seasons whose animals arrive at different ages, and seasons looked at each week.
 * Animals vary by 12 % of a gain of 40 g/d, arrive over eight days, those of the last
 * season seven days older; truth: a fifth less gain in it, or nothing; a day later
 * changes gain by nothing or by 1 % either way. Known beforehand: nothing, prior files of
 * four other nurseries (each with a slope of its own about the one here), or of four whose
 * slopes lie half a per cent a day off. The seeds stand here since before the first run.
 * Asked for: power of 75 % where arrival does nothing, false differences at most 6 %, over
 * all weekly looks too. Rows not asked for stay in the results as they were.
 *
 *   npm run bench seasons-arrival [runs] [nothing | prior files | prior files half a per cent off | looks ...]
 */
const seed = 15_481_000;
/** Of the rows with prior files since files are followed less: those of `seed` were looked at before. */
const seedWithFiles = 15_482_000;
const runs = Number(process.argv[2] ?? 1000);
const chosen = process.argv.slice(3);
const asked = (part: string) => chosen.length === 0 || chosen.includes(part);
const path = fileURLToPath(new URL("./results/seasons-arrival.json", import.meta.url));
const base = { animalSd: 4.8, seasonSd: 0, laterD: 7, overD: 8 };
const sizes = [
  { animals: 7, seasons: 2 },
  { animals: 9, seasons: 2 },
  { animals: 7, seasons: 4 },
  { animals: 10, seasons: 4 },
];
const rows: { readonly before: string }[] = [];
let key = 0;
const before = ["nothing", "prior files", "prior files half a per cent off"] as const;
/** Eighty nurseries around each slope, of which each study knows four. */
const around = new Map(
  [0, 0.01, -0.01, 0.005, -0.005].map((perDay, i) => [
    perDay,
    simulatedArrivals(perDay, 80, seedWithFiles + 900 + i),
  ]),
);
for (const known of before)
  for (const size of sizes)
    for (const difference of [-8, 0])
      for (const perDay of [0, 0.01, -0.01]) {
        // Off to the side that hurts: towards nothing, or away from it.
        const told = !known.endsWith("off") ? perDay : perDay === 0 ? 0.005 : perDay / 2;
        const others = known === "nothing" ? null : { arrivals: around.get(told)!, files: 4 };
        const plan = { ...base, ...size, difference, perDay };
        const from = (known === "nothing" ? seed : seedWithFiles) + key++;
        if (!asked(known)) continue;
        const rates = rateOfDecisions(plan, runs, from, others);
        const row = { before: known, ...size, difference, perDay, runs, ...rates };
        rows.push(row);
        console.log(JSON.stringify(row));
      }
const newLooks = (asked("looks") ? [6, 10] : []).map((animals, i) => {
  const plan = { animals, seasons: 2, animalSd: 9, seasonSd: 0, difference: 0 };
  const times = Math.ceil(runs / 2);
  const row = { animals, runs: times, ...rateOfWeeklyLooks(plan, times, seed + 500 + i) };
  console.log(JSON.stringify(row));
  return row;
});
const was: { readonly rows: typeof rows; readonly weeklyLooks: object[] } = existsSync(path)
  ? JSON.parse(readFileSync(path, "utf8"))
  : { rows: [], weeklyLooks: [] };
writeFileSync(
  path,
  `${JSON.stringify(
    {
      bench: "seasons-arrival",
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
      seed,
      seedWithFiles,
      rows: before.flatMap((known) =>
        (asked(known) ? rows : was.rows).filter((r) => r.before === known),
      ),
      weeklyLooks: newLooks.length > 0 ? newLooks : was.weeklyLooks,
    },
    null,
    2,
  )}\n`,
);
