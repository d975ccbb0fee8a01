import type { RealAnswer, RealOrNot } from "../real-answer.js";
import { concludeReal } from "../real-or-not.js";
import type { RivalExplanation, RivalName } from "./explanation.js";

const rivalOf: Readonly<Record<RealAnswer["question"], RivalName>> = {
  scale: "scale",
  coat: "weighing condition",
  meal: "weighing condition",
  swap: "swap",
};

/**
 * "Is it real?" as the table of rivals has it: what it calls likely is found, what it
 * speaks against is not found, all else cannot be told; the sentences of the answers
 * stay, and what the table adds stands before them. So no two places disagree.
 */
export function realByRivals(real: RealOrNot, rivals: readonly RivalExplanation[]): RealOrNot {
  const answers = real.answers.map((answer): RealAnswer => {
    const rival = rivals.find((r) => r.rival === rivalOf[answer.question])!;
    // Of coat and meal, whichever was not told stays open by itself.
    const open = rivalOf[answer.question] === "weighing condition" && answer.verdict;
    const verdict =
      rival.verdict === "likely"
        ? open === "not found"
          ? "not found"
          : "found"
        : rival.verdict === "speaks against"
          ? open === "cannot be told"
            ? open
            : "not found"
          : "cannot be told";
    const known = new Set(answer.sentences.map((s) => s.code));
    const added =
      answer.question === "meal"
        ? []
        : [...rival.speaksFor, ...rival.speaksAgainst, ...rival.ask].filter(
            (n) => !known.has(n.code) && (verdict !== "not found" || n.level !== "problem"),
          );
    return { ...answer, verdict, sentences: [...added, ...answer.sentences] };
  });
  return { ...real, answers, conclusion: concludeReal(real.animalId, answers) };
}
