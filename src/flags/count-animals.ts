import type { AnimalDay } from "./animal-day/flag.js";
import type { SignalClass } from "./animal-day/signal.js";
import { signalClassOf } from "./animal-day/signal-class-of.js";

/** How many animals of a day's list stand where, and what named the flagged ones. */
export interface FlagCounts {
  readonly flagged: number;
  readonly notFlagged: number;
  readonly notJudged: number;
  /** Of the flagged: named by their weighings, whose false flags the budget counts. */
  readonly byWeighings: number;
  /** Of the flagged: named by a danger rule. One animal may be named by both. */
  readonly byDanger: number;
  /** Of the flagged: named by rules of common practice and by nothing else. */
  readonly byPracticeOnly: number;
}

/**
 * Counts a day's list. What names an animal are the signals raised that day, or,
 * where none is and its episode is still open, those of the episode.
 *
 * @example countAnimals(day.animals) // { flagged: 3, byWeighings: 1, byDanger: 1, byPracticeOnly: 1, ... }
 */
export function countAnimals(animals: readonly AnimalDay[]): FlagCounts {
  const flagged = animals.filter((a) => a.status === "flagged").map(classesOf);
  const named = (of: SignalClass) => flagged.filter((classes) => classes.has(of)).length;
  return {
    flagged: flagged.length,
    notFlagged: animals.filter((a) => a.status === "not flagged").length,
    notJudged: animals.filter((a) => a.status === "not judged").length,
    byWeighings: named("statistical"),
    byDanger: named("danger"),
    byPracticeOnly: flagged.filter((c) => !c.has("statistical") && !c.has("danger")).length,
  };
}

function classesOf({ raised, episode }: AnimalDay): ReadonlySet<SignalClass> {
  const kinds = raised.length > 0 ? raised : (episode?.signals ?? []);
  return new Set(kinds.map((s) => signalClassOf(s.kind)));
}
