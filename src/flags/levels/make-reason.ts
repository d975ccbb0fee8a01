import type { LevelReason } from "./level.js";

type Told = Pick<LevelReason, "level" | "what" | "sentence" | "at"> & Partial<LevelReason>;

/**
 * A reason with what is not told: nothing to do, nothing measured, not answered.
 * Suggestions wait for a danger and for whatever must be measured first.
 *
 * @example makeReason({ level: "danger", what: "hot", sentence, at }).suggestionsWait // true
 */
export function makeReason(told: Told): LevelReason {
  return {
    act: null,
    byAt: null,
    size: null,
    suggestionsWait: told.level === "danger" || told.level === "measure first",
    answered: null,
    standingInstruction: null,
    ...told,
  };
}
