import type { RivalExplanation } from "./explanation.js";
import type { SlowGainerCase } from "./slow-gainer-case.js";

/** Was it weighed wet, or after a meal, so that the course bends by itself? */
export function weighingCondition(c: SlowGainerCase): RivalExplanation {
  const asked = c.real.answers.filter((a) => a.question === "coat" || a.question === "meal");
  const of = (verdict: (typeof asked)[number]["verdict"]) =>
    asked.filter((a) => a.verdict === verdict).flatMap((a) => a.sentences);
  const found = of("found");
  const open = of("cannot be told");
  return {
    rival: "weighing condition",
    verdict: found.length > 0 ? "likely" : open.length > 0 ? "cannot be told" : "speaks against",
    speaksFor: found,
    speaksAgainst: of("not found"),
    ask: open,
    weight: found.length > 0 ? 1 : 0,
  };
}
