import { seededRandom } from "../../../src/core/random.js";
import { chooseHabits, writeInHand } from "./choose-hand.js";
import { demoPart } from "./demo-part.js";
import type { Habit } from "./draft.js";
import { notYet } from "./not-yet.js";
import { type Plain, type Reading, readHand, readPlain } from "./read-hand.js";
import { simulateStudy } from "./simulate-study.js";
import type { TrueStudy } from "./true-study.js";

/** A hand that was tried: what it was, and what became of it. */
export interface Tried {
  readonly name: string;
  readonly reads: Habit["reads"];
  readonly reading: Reading;
}

export interface PlainStudy {
  readonly truth: TrueStudy;
  readonly plain: Plain;
}

/** A study by its seed: simulated where it is even, a part of the demo where it is odd. */
export async function studyOfSeed(
  seed: number,
  largest: { readonly animals: number; readonly days: number },
): Promise<PlainStudy> {
  const random = seededRandom(seed);
  const size = {
    animals: 2 + random.below(largest.animals - 1),
    days: Math.min(8, largest.days) + random.below(Math.max(1, largest.days - 7)),
  };
  const truth = seed % 2 === 0 ? simulateStudy(random, size) : demoPart(random, size);
  const { draft, hand } = writeInHand(truth, [], random);
  return { truth, plain: await readPlain(draft, hand) };
}

/** One study in the hand of given habits, or of three to six drawn by the seed. */
export async function tryHand(
  { truth, plain }: PlainStudy,
  seed: number,
  given?: readonly Habit[],
): Promise<Tried> {
  const random = seededRandom(seed);
  const chosen = given ?? chooseHabits(random, truth, (habit) => notYet[habit.name] === undefined);
  const { draft, hand } = writeInHand(truth, chosen, random);
  return {
    name: chosen.map((habit) => habit.name).join(" + "),
    reads: chosen.some((habit) => habit.reads === "must ask") ? "must ask" : "without asking",
    reading: await readHand(draft, hand, plain),
  };
}

/** What is wrong with a reading whatever the habits are: nothing may be. */
export function wrongOf({ name, reading }: Tried): string[] {
  return [
    ...reading.silent.slice(0, 3).map((each) => `${name}: silently ${each}`),
    ...reading.lostAnimals.map((id) => `${name}: lost ${id}`),
  ];
}
