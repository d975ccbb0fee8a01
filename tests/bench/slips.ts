import { mkdirSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import type { WeighingRow } from "../../src/records/study.js";
import { buildSeries } from "../../src/series/build-series.js";
import { grown, studyOf } from "../series/grow-study.js";
import { doubtedRows, exchangeFound, type Nursery, nursery } from "../series/invented-nursery.js";

/**
 * How often a healthy weighing is doubted, and how often a slip is found and
 * rightly explained, by simulation: animals growing about 1 % a day with honest
 * noise (0.6 % a reading, 0.6 % a day), some weighings after a meal (+4 %) or
 * wet (+5 %), one in five animals losing 2 % a day for a week. One slip for
 * each animal in the second part. Seed 20250330.
 *
 * Then, on seeds on which nothing was tuned (20270000 and on, written down before
 * the first run): healthy weighings by noise, cadence and tails, and two animals
 * exchanged by how far they lie apart.
 */
const animals = 400;
const days = 45;
const random = seededRandom(20250330);

/** One animal with meals, wet coats and perhaps an illness. */
function life(i: number): WeighingRow[] {
  const r = random.split(i);
  const ill = r.uniform() < 0.2 ? 8 + r.below(25) : null;
  let lost = 1;
  return grown(1, days, 20250330 + i, 1500 + r.below(6000)).map((w, d) => {
    if (ill !== null && d >= ill && d < ill + 7) lost *= 0.97;
    const u = r.uniform();
    const more =
      u < 0.1
        ? { share: 1.04, meal: "after" as const, coat: "dry" as const }
        : u < 0.18
          ? { share: 1.05, meal: "before" as const, coat: "wet" as const }
          : { share: 1, meal: "before" as const, coat: "dry" as const };
    const massG = Math.round((w.massG - 410) * lost * more.share) + 410;
    return { ...w, massG, meal: more.meal, coat: more.coat };
  });
}

const lives = Array.from({ length: animals }, (_, i) => life(i));
const found = (rows: readonly WeighingRow[]) =>
  buildSeries(studyOf(rows)).animals[0]!.weighings.filter((w) => w.slip !== null);

let weighings = 0;
let doubted = 0;
for (const rows of lives) {
  weighings += rows.length;
  doubted += found(rows).length;
}
console.log(`healthy weighings doubted: ${doubted} of ${weighings}`);

const kinds: Readonly<Record<string, (w: WeighingRow, d: number) => Partial<WeighingRow>>> = {
  "times ten": (w) => ({ massG: w.massG * 10 }),
  tenth: (w) => ({ massG: w.massG / 10 }),
  thousandth: (w) => ({ massG: w.massG / 1000, tareG: 0.41 }),
  "pounds for kilograms": (w) => ({ massG: Math.round(w.massG / 0.45359237) }),
  "digits swapped": (w) => {
    const t = String(w.massG);
    return { massG: Number(t[1]! + t[0]! + t.slice(2)) };
  },
  "digit dropped": (w, d) => {
    const t = String(w.massG);
    const at = d % t.length;
    return { massG: Number(t.slice(0, at) + t.slice(at + 1)) };
  },
  "tare forgotten": () => ({ tareG: 0 }),
};
const slips: Record<string, object> = {};
for (const [kind, change] of Object.entries(kinds)) {
  let made = 0;
  let seen = 0;
  let right = 0;
  let near = 0;
  lives.forEach((rows, i) => {
    const day = random.split(1_000_000 + i).below(days);
    const w = rows[day]!;
    const changed = { ...w, ...change(w, i) };
    // A slip that changes the net mass by less than 15 % is not to be told from life.
    const effect = Math.log((changed.massG - (changed.tareG ?? 0)) / (w.massG - 410));
    if (Math.abs(effect) < 0.15) return;
    made++;
    const suspected = found(rows.map((r, d) => (d === day ? changed : r)));
    const mine = suspected.find((s) => s.at === w.at);
    if (mine === undefined) return;
    seen++;
    if (mine.slip!.kind === kind) right++;
    const suggested = mine.slip!.suggestedG;
    if (suggested !== null && Math.abs(suggested / (w.massG - 410) - 1) < 0.05) near++;
  });
  slips[kind] = { made, seen, namedRight: right, suggestedWithin5Percent: near };
  console.log(kind, JSON.stringify(slips[kind]));
}
const heldOut = 20_270_000;
const worlds: Readonly<Record<string, Omit<Nursery, "animals">>> = {
  "noise 0.5 %": { noise: 0.005, days: 50 },
  "noise 1 %": { noise: 0.01, days: 50 },
  "noise 2 %": { noise: 0.02, days: 50 },
  "noise 1 %, meals and wet coats written down": { noise: 0.01, days: 50, conditions: true },
  "noise 1 %, three a day": { noise: 0.01, days: 50, perDay: 3 },
  "noise 1 %, ten days": { noise: 0.01, days: 10 },
  "noise 0.6 %, gains wander 0.8 % a day": { noise: 0.006, days: 50, walk: 0.008 },
  "noise 1 %, Student's t with 5 degrees": { noise: 0.01, days: 50, heavyTails: true },
};
const healthyWorlds: Record<string, object> = {};
for (const [name, world] of Object.entries(worlds)) {
  let all = 0;
  let wrong = 0;
  for (let k = 0; k < 100; k++) {
    const rows = nursery(heldOut + k, { animals: 12, ...world });
    all += rows.length;
    wrong += doubtedRows(rows).length;
  }
  healthyWorlds[name] = { weighings: all, doubted: wrong };
  console.log(name, JSON.stringify(healthyWorlds[name]));
}
const exchanges: Record<string, object> = {};
for (const noise of [0.005, 0.01, 0.02])
  for (const apart of [0.04, 0.06, 0.08, 0.12]) {
    const made = 400;
    const all = Array.from({ length: made }, (_, k) =>
      exchangeFound(heldOut + 1000 + k, { animals: 10, days: 40, noise }, apart),
    );
    const name = `${100 * apart} % apart, noise ${100 * noise} %`;
    exchanges[name] = {
      made,
      found: all.filter((x) => x.found).length,
      named: all.filter((x) => x.named).length,
    };
    console.log(name, JSON.stringify(exchanges[name]));
  }
const folder = join(dirname(fileURLToPath(import.meta.url)), "results");
mkdirSync(folder, { recursive: true });
writeFileSync(
  join(folder, "slips.json"),
  `${JSON.stringify({ date: new Date().toISOString().slice(0, 10), machine: cpus()[0]?.model, node: process.version, seed: 20250330, animals, days, healthy: { weighings, doubted }, slips, heldOut, healthyWorlds, exchanges }, null, 2)}\n`,
);
