import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
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
 * Arguments: up to which mixed hand (2000), for how many minutes at most (25), and
 * from which hand on (0: the habits alone first). Seeds from 20270100 on, written
 * down before the first run. The results are kept in portions of fifty hands, each
 * written when it is done: a stop loses nothing, and a part that is run again
 * takes the place of what it was.
 */
const [, , handsText = "2000", minutesText = "25", fromText = "0"] = process.argv;
const until = Date.now() + Number(minutesText) * 60_000;
const firstSeed = 20270100;
const largest = { animals: 6, days: 30 };
const portion = 50;

interface Tally {
  hands: number;
  whole: number;
  refused: number;
  /** Hands of which at least one row was asked about beyond the plain hand. */
  asked: number;
  silent: number;
  lostAnimals: number;
  rows: number;
  rowsAsked: number;
}
interface Portion {
  /** When it was run; portions without it were run before that was written down. */
  readonly ran?: string;
  readonly "without asking": Tally;
  readonly "must ask": Tally;
  readonly wrong: string[];
  /** Hands that need no asking and were not read whole, each with why. */
  readonly notWhole: Record<string, string>;
}

const tally = (): Tally => ({
  hands: 0,
  whole: 0,
  refused: 0,
  asked: 0,
  silent: 0,
  lostAnimals: 0,
  rows: 0,
  rowsAsked: 0,
});
const empty = (): Portion => ({
  ran: new Date().toISOString().slice(0, 16),
  "without asking": tally(),
  "must ask": tally(),
  wrong: [],
  notWhole: {},
});

function count(into: Portion, at: string, one: Tried): void {
  const { reading, reads } = one;
  const t = into[reads];
  t.hands++;
  t.rows += reading.rows;
  t.rowsAsked += reading.asked;
  if (reading.whole) t.whole++;
  if (reading.refused !== null) t.refused++;
  if (reading.asked > 0) t.asked++;
  if (reading.silent.length > 0) t.silent++;
  if (reading.lostAnimals.length > 0) t.lostAnimals++;
  into.wrong.push(...wrongOf(one).map((each) => `${at}: ${each}`));
  if (!reading.whole && reads === "without asking")
    into.notWhole[`${at}: ${one.name}`] =
      reading.refused ?? reading.askedFor[0] ?? reading.differing[0] ?? "differs";
}

async function eachAlone(): Promise<Portion> {
  const done = empty();
  const two = [await studyOfSeed(firstSeed, largest), await studyOfSeed(firstSeed + 1, largest)];
  for (const habit of habits)
    for (const [i, study] of two.entries())
      if (habit.fits?.(study.truth) ?? true)
        count(done, `alone on ${firstSeed + i}`, await tryHand(study, firstSeed, [habit]));
  return done;
}

async function mixedHands(from: number, to: number): Promise<Portion> {
  const done = empty();
  let study: PlainStudy | null = null;
  for (let i = from; i < to; i++) {
    if (i % 10 === 0 || study === null)
      study = await studyOfSeed(firstSeed + 2 + Math.floor(i / 10), largest);
    count(done, `hand ${i}`, await tryHand(study, firstSeed * 10 + i));
  }
  return done;
}

const out = join(dirname(fileURLToPath(import.meta.url)), "results", "another-hand.json");

interface Kept {
  readonly firstSeed: number;
  readonly alone: Portion;
  readonly mixed: Record<string, Portion>;
}

/** What earlier runs found with the same seeds. */
function kept(): Kept {
  const before = existsSync(out) ? (JSON.parse(readFileSync(out, "utf8")) as Kept) : null;
  return before?.firstSeed === firstSeed && "wrong" in before.alone
    ? before
    : { firstSeed, alone: empty(), mixed: {} };
}

function write(change: Partial<Pick<Kept, "alone" | "mixed">>): void {
  const before = kept();
  const alone = change.alone ?? before.alone;
  const mixed = { ...before.mixed, ...change.mixed };
  const parts = Object.values(mixed);
  const sum = (reads: Tried["reads"]) => {
    const all = tally();
    for (const part of parts)
      for (const key of Object.keys(all) as (keyof Tally)[]) all[key] += part[reads][key];
    return all;
  };
  const plain = sum("without asking");
  const share = (n: number, of: number) => Number((n / Math.max(1, of)).toFixed(4));
  const result = {
    date: new Date().toISOString().slice(0, 10),
    machine: cpus()[0]?.model.trim() ?? "unknown",
    node: process.version,
    firstSeed,
    largest,
    habits: habits.length,
    leftOutAsNotYetRead: notYet,
    mixedHands: plain.hands + sum("must ask").hands,
    silent: alone.wrong.length + parts.reduce((n, part) => n + part.wrong.length, 0),
    readWholeAlone: share(alone["without asking"].whole, alone["without asking"].hands),
    readWholeMixed: share(plain.whole, plain.hands),
    rowsAskedWithoutNeed: share(plain.rowsAsked, plain.rows),
    sumOfMixed: { "without asking": plain, "must ask": sum("must ask") },
    alone,
    mixed,
  };
  mkdirSync(dirname(out), { recursive: true });
  writeFileSync(out, `${JSON.stringify(result, null, 2)}\n`);
  console.log(`${result.mixedHands} hands so far, ${result.silent} wrong`);
}

const from = Number(fromText);
if (from === 0) write({ alone: await eachAlone() });
for (let i = from; i < Number(handsText) && Date.now() < until; i += portion) {
  const done = await mixedHands(i, Math.min(i + portion, Number(handsText)));
  write({ mixed: { [`from ${String(i).padStart(4, "0")}`]: done } });
  for (const each of done.wrong) console.log(each);
}
