import type { Random } from "../../../src/core/random.js";
import { habits } from "./all-habits.js";
import { type Draft, type Habit, plainDraft } from "./draft.js";
import type { TrueStudy } from "./true-study.js";
import { type Hand, writeHand } from "./write-hand.js";

/** Three to six habits, drawn at random, no two of which settle the same thing. */
export function chooseHabits(
  random: Random,
  truth: TrueStudy,
  allowed: (habit: Habit) => boolean = () => true,
): Habit[] {
  const wanted = 3 + random.below(4);
  const chosen: Habit[] = [];
  for (const habit of random.shuffled(
    habits.filter((h) => allowed(h) && (h.fits?.(truth) ?? true)),
  )) {
    if (chosen.length === wanted) break;
    if (chosen.some((other) => other.settles.some((s) => habit.settles.includes(s)))) continue;
    chosen.push(habit);
  }
  return chosen.sort((a, b) => habits.indexOf(a) - habits.indexOf(b));
}

/** The study as a hand of these habits writes it. */
export function writeInHand(
  truth: TrueStudy,
  chosen: readonly Habit[],
  random: Random,
): { readonly draft: Draft; readonly hand: Hand } {
  const draft = plainDraft(truth);
  for (const habit of chosen) habit.write(draft, random);
  return { draft, hand: writeHand(draft) };
}
