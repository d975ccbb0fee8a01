import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";

/** Are these another animal's numbers? As answered from the records of the days around the change. */
export function swap(c: SlowGainerCase): RivalExplanation {
  const answer = c.real.answers.find((a) => a.question === "swap")!;
  const found = answer.verdict === "found";
  // Exchanged animals step their course by the difference in mass; a loss bends it.
  const suspected = answer.question === "swap" && answer.evidence.suspected > 0;
  const steps = suspected || (c.ownStep !== null && c.ownStep.overBend > 0);
  return {
    rival: "swap",
    verdict: found
      ? steps
        ? "likely"
        : "possible"
      : answer.verdict === "not found"
        ? "speaks against"
        : "cannot be told",
    speaksFor: found ? answer.sentences : [],
    speaksAgainst: answer.verdict === "not found" ? answer.sentences : [],
    ask: answer.verdict === "cannot be told" ? answer.sentences : [],
    weight: found ? (steps ? 1 : 0.4) : 0,
  };
}
