import type { AnimalAnalysis } from "../../analysis/study-analysis.js";
import type { AnimalLevel } from "../../flags/levels/level.js";
import { screenWording } from "../../units/format.js";
import { say } from "../section/say.js";
import { answeredWords } from "./act-words.js";
import { plainReason } from "./plain-reason.js";

/** What stands against an animal, in words: the same on the board and at the change of shift. */
export interface ReasonWords {
  /** A sentence each, the gravest first, with what was answered to it. */
  readonly reasons: readonly string[];
  /** The veterinarian's standing instructions, word for word, and whom to call in danger. */
  readonly instructions: readonly string[];
}

/** The words of an animal's level. */
export function reasonWords(animal: AnimalAnalysis, level: AnimalLevel, zone: string): ReasonWords {
  const wording = screenWording(zone);
  const reasons = level.reasons.map((r) => {
    const why = plainReason(animal, r, wording);
    if (r.answered === null) return why;
    return `${why} ${answeredWords(r.answered, zone)}`;
  });
  const standing = level.reasons.flatMap((r) =>
    r.standingInstruction === null ? [] : [say("level-standing", { words: r.standingInstruction })],
  );
  const call =
    level.level === "danger" && level.call !== null
      ? [say("level-call", { words: level.call })]
      : [];
  return { reasons, instructions: [...standing, ...call] };
}
