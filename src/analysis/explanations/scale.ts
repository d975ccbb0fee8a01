import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";

/** Does the scale read wrongly? */
export function scale(c: SlowGainerCase): RivalExplanation {
  const answer = c.real.answers.find((a) => a.question === "scale")!;
  const found = answer.verdict === "found";
  return {
    rival: "scale",
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
