import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { countOpenings } from "../../src/flags/animal-day/episode-rule.js";
import { defaultCalibration } from "../../src/flags/budget/default-calibration.js";
import { priorsForWorlds } from "./worlds/priors-for-worlds.js";
import { daysToFlag, strengths, type WorldRun, watchNursery } from "./worlds/watch-world.js";
import { drawNursery, type Nursery, type World } from "./worlds/world.js";
import { heldOut, heldOutSeed } from "./worlds/worlds.js";

/**
 * How early a slow gainer is named, and how often a healthy one is, in worlds that
 * nothing was tuned on: openings per 100 judged animal-weeks at 2 asked, with limits
 * clustered by nursery, and the share found by day 14 (30 for 15 % less) at thresholds moved
 * to a realised rate of 2.
 *
 * `full` measures 15 % less, stopped gain and a fall of 20 % over 5 days too, and prior
 * files that are 20 % wrong either way.
 *
 *   npm run bench early [nurseries of 10 a world] [full] [world ...]
 */
const nurseries = Number(process.argv[2] ?? 115);
const full = process.argv[3] === "full";
const chosen = process.argv.slice(full ? 4 : 3);
const label = process.env["EARLY_LABEL"] ?? "";
const began = Date.now();
const rows: object[] = [];

interface Cell {
  readonly size: number;
  readonly before: "nothing" | "two seasons" | "prior file" | "prior file 20 % low" | "20 % high";
}
const cells: readonly Cell[] = [
  { size: 1, before: "nothing" },
  { size: 1, before: "two seasons" },
  { size: 1, before: "prior file" },
  { size: 2, before: "prior file" },
  { size: 3, before: "prior file" },
  { size: 5, before: "prior file" },
  { size: 10, before: "nothing" },
  { size: 10, before: "prior file" },
  ...(full
    ? ([
        { size: 1, before: "prior file 20 % low" },
        { size: 1, before: "20 % high" },
        { size: 10, before: "prior file 20 % low" },
        { size: 10, before: "20 % high" },
      ] as const)
    : []),
];
const files = {
  "prior file": priorsForWorlds(),
  "prior file 20 % low": full ? priorsForWorlds(12, 0.8) : [],
  "20 % high": full ? priorsForWorlds(12, 1.2) : [],
};

function runs(
  world: World,
  cell: Cell,
  nursery: Omit<Nursery, "seasons">,
  key: number,
  count: number,
) {
  const out: WorldRun[][] = [];
  const seasons = cell.before === "two seasons" ? [8, 8, cell.size] : [cell.size];
  const { before } = cell;
  const options = before === "nothing" || before === "two seasons" ? {} : { priors: files[before] };
  for (let r = 0; r < count; r++)
    out.push(watchNursery(drawNursery(world, { seasons, ...nursery }, key + r), options));
  return out;
}

for (const [w, world] of heldOut.entries()) {
  if (chosen.length > 0 && !chosen.includes(world.name)) continue;
  for (const [c, cell] of cells.entries()) {
    const key = heldOutSeed * 1000 + w * 1_000_000 + c * 100_000;
    const count = Math.ceil((nurseries * 10) / cell.size);
    const healthy = runs(world, cell, {}, key, count);
    const flat = healthy.flat();
    const strength = flat.map((r) => strengths(r, defaultCalibration, 2));
    const weeks = flat.reduce((n, r) => n + r.days.length, 0) / 7;
    const rate = (scale: number) =>
      (100 * strength.reduce((n, s) => n + countOpenings(s, scale), 0)) / weeks;
    const byNursery = new Map<number, number>();
    let at = 0;
    healthy.forEach((own, i) => {
      let n = 0;
      for (const _ of own) n += countOpenings(strength[at++]!);
      byNursery.set(i, n);
    });
    const realised = rate(1);
    const meanCount = [...byNursery.values()].reduce((s, x) => s + x, 0) / count;
    const sdCount = Math.sqrt(
      [...byNursery.values()].reduce((s, x) => s + (x - meanCount) ** 2, 0) /
        Math.max(1, count - 1),
    );
    const half = (1.96 * sdCount * Math.sqrt(count) * 100) / weeks;
    let low = 0.4;
    let high = 2.5;
    for (let i = 0; i < 25; i++) {
      const middle = Math.sqrt(low * high);
      if (rate(middle) > 2) low = middle;
      else high = middle;
    }
    const scale = Math.sqrt(low * high);
    const openDays = strength.reduce((n, s) => n + openDaysOf(s), 0) / (weeks * 7);
    const judged =
      flat.reduce((n, r) => n + r.days.length, 0) / flat.reduce((n, r) => n + r.inCare, 0);
    const affected = 3 * nurseries;
    const found = (
      share: number,
      by: number,
      seed: number,
      fall?: { by: number; overD: number },
    ) => {
      const delays: number[] = [];
      const ofFirst: number[] = [];
      for (let r = 0; r < affected; r++) {
        const short = fall === undefined ? { share } : { share, fall };
        const nursery = { affected: { animal: 0, fromD: 14 + (r % 21), ...short } };
        const all = runs(world, cell, nursery, key + seed + r, 1)[0]!;
        const own = all.find((x) => x.shortFrom !== null)!;
        const delay = daysToFlag(own, strengths(own, defaultCalibration, 2), scale);
        delays.push(delay);
        if (own.first) ofFirst.push(delay);
      }
      delays.sort((a, b) => a - b);
      return {
        share: Number((delays.filter((d) => d <= by).length / affected).toFixed(3)),
        median: delays[affected >> 1]!,
        first: {
          n: ofFirst.length,
          share: Number((ofFirst.filter((d) => d <= by).length / ofFirst.length).toFixed(2)),
        },
      };
    };
    const halved = found(0.5, 14, 50_000);
    const slight = full ? found(0.85, 30, 60_000) : null;
    const stopped = full ? found(0, 14, 70_000) : null;
    const fallen = full ? found(1, 14, 80_000, { by: 0.2, overD: 5 }) : null;
    const others = Object.fromEntries(
      [1, 5].map((asked) => {
        const s = flat.map((r) => strengths(r, defaultCalibration, asked));
        const openings = s.reduce((n, x) => n + countOpenings(x), 0);
        return [`realisedAt${asked}`, Number(((100 * openings) / weeks).toFixed(2))];
      }),
    );
    const row = {
      world: world.name,
      animals: cell.size,
      before: cell.before,
      realised: Number(realised.toFixed(2)),
      ...others,
      limits: [Number((realised - half).toFixed(2)), Number((realised + half).toFixed(2))],
      scale: Number(scale.toFixed(3)),
      openDaysPct: Number((100 * openDays).toFixed(2)),
      judgedPct: Math.round(100 * judged),
      halvedBy14: halved.share,
      halvedMedian: halved.median,
      firstThree: cell.size > 3 ? halved.first : null,
      ...(fallen === null ? {} : { fallenBy14: fallen.share, fallenMedian: fallen.median }),
      ...(slight === null ? {} : { slightBy30: slight.share }),
      ...(stopped === null ? {} : { stoppedBy14: stopped.share, stoppedMedian: stopped.median }),
      affected,
      weeks: Math.round(weeks),
    };
    rows.push(row);
    console.log(JSON.stringify(row));
  }
  if (chosen.length === 0 || label !== "") write();
}

function openDaysOf(strength: ArrayLike<number>): number {
  let open = false;
  let below = 0;
  let days = 0;
  for (let i = 0; i < strength.length; i++) {
    if (!open && strength[i]! >= 1) {
      open = true;
      below = 0;
    } else if (open) {
      below = strength[i]! < 0.7 ? below + 1 : 0;
      if (below >= 3) open = false;
    }
    if (open) days++;
  }
  return days;
}

function write(): void {
  writeFileSync(
    fileURLToPath(new URL(`./results/early${label}.json`, import.meta.url)),
    `${JSON.stringify(
      {
        bench: "early",
        date: new Date().toISOString().slice(0, 10),
        machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} cores, Node ${process.version}`,
        seed: heldOutSeed,
        seconds: Math.round((Date.now() - began) / 1000),
        nurseriesOfTen: nurseries,
        rows,
      },
      null,
      2,
    )}\n`,
  );
}
