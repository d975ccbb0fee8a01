import type { Signal } from "./flag.js";

/**
 * Makes the signal of a rule that stands outside the budget of false flags: a
 * danger, or common practice. Its sentence is a problem only while it is raised.
 */
export function ruleSignal(
  class_: "danger" | "practice",
  kind: Signal["kind"],
  direction: Signal["direction"],
  raised: boolean,
  strength: number,
  value: Signal["value"],
  threshold: number,
  evidence: Signal["evidence"],
  sentence: Signal["sentence"],
): Signal {
  return {
    kind,
    class: class_,
    direction,
    raised,
    strength,
    value,
    threshold,
    evidence,
    sentence: { ...sentence, level: raised ? "problem" : "info" },
  };
}
