import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";

/** Are these another animal's numbers? As answered from the records of the days around the change. */
export function swap(c: SlowGainerCase): RivalExplanation {
  const answer = c.real.answers.find((a) => a.question === "swap")!;
  const found = answer.verdict === "found";
  return {
    rival: "swap",
    verdict: found
      ? "likely"
      : answer.verdict === "not found"
        ? "speaks against"
        : "cannot be told",
    speaksFor: found ? answer.sentences : [],
    speaksAgainst: answer.verdict === "not found" ? answer.sentences : [],
    ask: answer.verdict === "cannot be told" ? answer.sentences : [],
    weight: found ? 1 : 0,
  };
}
