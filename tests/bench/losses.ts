import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { levelDue, lossSeen } from "../flags/loss-of-a-day.js";

/**
 * How often a true loss from one day to the next reaches its level (look from
 * 5 %, danger from 10 %; common practice) at the newest weighing, and what is
 * raised without a loss. A level is due where the loss exceeds its limit by two
 * standard errors of the difference of two weighings. Seeds 20280000 and on,
 * written down before the first run.
 *
 *   npm run bench losses
 */
const SEED = 20_280_000;
const MADE = 500;
const order = ["nothing", "look", "danger"] as const;
const rows = [0.005, 0.01, 0.015, 0.02].flatMap((noise) =>
  [0, 0.06, 0.08, 0.1, 0.12, 0.14, 0.16, 0.18, 0.2].map((share) => {
    const seen = Array.from({ length: MADE }, (_, k) =>
      lossSeen(SEED + k, { days: 40, noise }, share),
    );
    const due = levelDue(share, noise);
    const reached = (list: typeof seen) =>
      list.filter((s) => order.indexOf(s.level) >= order.indexOf(due)).length;
    const doubted = seen.filter((s) => s.doubted);
    const row = {
      noisePct: 100 * noise,
      lossPct: Math.round(100 * share),
      due,
      made: MADE,
      reached: due === "nothing" ? null : reached(seen),
      doubted: doubted.length,
      doubtedReached: due === "nothing" ? null : reached(doubted),
      look: seen.filter((s) => s.level === "look").length,
      danger: seen.filter((s) => s.level === "danger").length,
    };
    console.log(JSON.stringify(row));
    return row;
  }),
);
writeFileSync(
  fileURLToPath(new URL("./results/losses.json", import.meta.url)),
  `${JSON.stringify({ bench: "losses", date: new Date().toISOString().slice(0, 10), machine: cpus()[0]?.model, node: process.version, seed: SEED, rows }, null, 2)}\n`,
);
