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
 * Arguments: how many mixed hands (2000), for how many minutes at most (25), and
 * from which hand on (0; another one tries a part again and writes no file).
 * Seeds from 20270100 on, written down before the first run. What was found so far
 * is written after every fifty hands: a stop loses nothing.
 */
const [, , handsText = "2000", minutesText = "25", fromText = "0"] = process.argv;
const hands = Number(handsText);
const from = Number(fromText);
const until = Date.now() + Number(minutesText) * 60_000;
const firstSeed = 20270100;
const largest = { animals: 6, days: 30 };

const share = (t: Tally) => Number((t.whole / Math.max(1, t.hands)).toFixed(3));

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

/** Whom a hand is told by, where it has to be tried again. */
const found = (at: string, one: Tried) => {
  wrong.push(...wrongOf(one).map((each) => `${at}: ${each}`));
  if (!one.reading.whole && one.reads === "without asking")
    notWhole.set(
      `${at}: ${one.name}`,
      one.reading.refused ?? one.reading.askedFor[0] ?? one.reading.differing[0] ?? "differs",
    );
};

const two =
  from > 0
    ? []
    : [await studyOfSeed(firstSeed, largest), await studyOfSeed(firstSeed + 1, largest)];
for (const habit of habits)
  for (const [i, study] of two.entries()) {
    if (!(habit.fits?.(study.truth) ?? true)) continue;
    const one = await tryHand(study, firstSeed, [habit]);
    count(alone[one.reads], one);
    found(`alone on ${firstSeed + i}`, one);
  }
console.log("alone", alone);

let rows = 0;
let rowsAsked = 0;
let study: PlainStudy | null = null;
for (let i = from; i < hands && Date.now() < until; i++) {
  if (i % 10 === 0 || study === null)
    study = await studyOfSeed(firstSeed + 2 + Math.floor(i / 10), largest);
  const one = await tryHand(study, firstSeed * 10 + i);
  count(mixed[one.reads], one);
  found(`hand ${i}`, one);
  if (one.reads === "without asking") {
    rows += one.reading.rows;
    rowsAsked += one.reading.asked;
  }
  if ((i + 1) % 50 === 0) write();
}
console.log(write());

function write() {
  const tried = mixed["without asking"].hands + mixed["must ask"].hands;
  const result = {
    date: new Date().toISOString().slice(0, 10),
    machine: cpus()[0]?.model.trim() ?? "unknown",
    node: process.version,
    firstSeed,
    largest,
    habits: habits.length,
    leftOutAsNotYetRead: notYet,
    handsWanted: hands,
    handsTried: tried,
    alone,
    mixed,
    readWholeAlone: share(alone["without asking"]),
    readWholeMixed: share(mixed["without asking"]),
    rowsAskedWithoutNeed: Number((rowsAsked / Math.max(1, rows)).toFixed(4)),
    wrong,
    notReadWholeWithoutNeed: Object.fromEntries(notWhole),
  };
  console.log(`${tried} hands, ${wrong.length} wrong`);
  if (from > 0) return result;
  const out = join(dirname(fileURLToPath(import.meta.url)), "results", "another-hand.json");
  mkdirSync(dirname(out), { recursive: true });
  writeFileSync(out, `${JSON.stringify(result, null, 2)}\n`);
  return result;
}
