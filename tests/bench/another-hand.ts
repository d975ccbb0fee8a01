import { mkdirSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { habits } from "../records/another-hand/all-habits.js";
import {
  type PlainStudy,
  studyOfSeed,
  type Tried,
  tryHand,
  wrongOf,
} from "../records/another-hand/hands-of-seed.js";
import { notYet } from "../records/another-hand/not-yet.js";

/**
 * The same study in another hand, on studies of up to 6 animals and 30 days: each
 * habit alone on a simulated study and on a part of the demo, then hands of three
 * to six habits at random, ten to a study. What was silently read wrong, what was
 * lost, how many rows were asked about, and how many hands that need no asking
 * were read whole after one accepted proposal.
 *
 * Arguments: how many mixed hands (2000) and for how many minutes at most (25).
 * Seeds from 20270100 on, written down before the first run.
 */
const [, , handsText = "2000", minutesText = "25"] = process.argv;
const hands = Number(handsText);
const until = Date.now() + Number(minutesText) * 60_000;
const firstSeed = 20270100;
const largest = { animals: 6, days: 30 };

interface Tally {
  hands: number;
  whole: number;
  refused: number;
  /** Hands of which at least one row was asked about beyond the plain hand. */
  asked: number;
  silent: number;
  lostAnimals: number;
}
const none = (): Tally => ({ hands: 0, whole: 0, refused: 0, asked: 0, silent: 0, lostAnimals: 0 });

function count(tally: Tally, { reading }: Tried): void {
  tally.hands++;
  if (reading.whole) tally.whole++;
  if (reading.refused !== null) tally.refused++;
  if (reading.asked > 0) tally.asked++;
  if (reading.silent.length > 0) tally.silent++;
  if (reading.lostAnimals.length > 0) tally.lostAnimals++;
}

const alone = { "without asking": none(), "must ask": none() };
const mixed = { "without asking": none(), "must ask": none() };
const notWhole = new Map<string, string>();
const wrong: string[] = [];

const two = [await studyOfSeed(firstSeed, largest), await studyOfSeed(firstSeed + 1, largest)];
for (const habit of habits)
  for (const study of two) {
    if (!(habit.fits?.(study.truth) ?? true)) continue;
    const one = await tryHand(study, firstSeed, [habit]);
    count(alone[one.reads], one);
    wrong.push(...wrongOf(one));
    if (!one.reading.whole && one.reads === "without asking")
      notWhole.set(habit.name, one.reading.refused ?? one.reading.askedFor[0] ?? "differs");
  }
console.log("alone", alone);

let rows = 0;
let rowsAsked = 0;
let study: PlainStudy | null = null;
for (let i = 0; i < hands && Date.now() < until; i++) {
  if (i % 10 === 0 || study === null) study = await studyOfSeed(firstSeed + 2 + i / 10, largest);
  const one = await tryHand(study, firstSeed * 10 + i);
  count(mixed[one.reads], one);
  wrong.push(...wrongOf(one));
  if (one.reads === "without asking") {
    rows += one.reading.rows;
    rowsAsked += one.reading.asked;
  }
  if ((i + 1) % 100 === 0) console.log(`${i + 1} hands, ${wrong.length} wrong`, mixed);
}

const share = (t: Tally) => Number((t.whole / Math.max(1, t.hands)).toFixed(3));
const result = {
  date: new Date().toISOString().slice(0, 10),
  machine: cpus()[0]?.model.trim() ?? "unknown",
  node: process.version,
  firstSeed,
  largest,
  habits: habits.length,
  leftOutAsNotYetRead: notYet,
  alone,
  mixed,
  readWholeAlone: share(alone["without asking"]),
  readWholeMixed: share(mixed["without asking"]),
  rowsAskedWithoutNeed: Number((rowsAsked / Math.max(1, rows)).toFixed(4)),
  notReadWholeAlone: Object.fromEntries(notWhole),
  wrong: wrong.slice(0, 40),
};
console.log(result);
const out = join(dirname(fileURLToPath(import.meta.url)), "results", "another-hand.json");
mkdirSync(dirname(out), { recursive: true });
writeFileSync(out, `${JSON.stringify(result, null, 2)}\n`);
