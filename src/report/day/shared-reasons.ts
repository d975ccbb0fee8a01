import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import { type NextAct, nextActs } from "./act-words.js";
import { reasonWords } from "./reason-words.js";

/** What stands against every animal of a page alike. */
export interface SharedReasons {
  /** To be said once, above all of them. */
  readonly lines: readonly string[];
  /** Whether a line, or an act, of an animal is said above already. */
  readonly saysLine: (line: string) => boolean;
  readonly saysAct: (act: NextAct) => boolean;
}

/**
 * That the records end, say, is no news of one animal: repeated on every line it
 * hides what is. Said once, with its act. Nothing is shared by one animal alone.
 */
export function sharedReasons(
  levels: readonly AnimalLevel[],
  animals: ReadonlyMap<string, AnimalAnalysis>,
  zone: string,
): SharedReasons {
  const reasons = levels.map((l) => reasonWords(animals.get(l.animalId)!, l, zone).reasons);
  const acts = levels.map((l) => nextActs(l, zone));
  const wordsOf = (act: NextAct) => `${act.when} ${act.act}`.trim();
  const lines = levels.length < 2 ? [] : inAll(reasons);
  const shared = lines.length === 0 ? [] : inAll(acts.map((each) => each.map(wordsOf)));
  return {
    lines: lines.length === 0 ? [] : [[...lines, ...shared].join(" ")],
    saysLine: (line) => lines.includes(line),
    saysAct: (act) => shared.includes(wordsOf(act)),
  };
}

const inAll = ([first = [], ...rest]: readonly (readonly string[])[]): readonly string[] =>
  first.filter((each) => rest.every((other) => other.includes(each)));
