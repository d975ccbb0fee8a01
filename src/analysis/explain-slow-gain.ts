import type { Result } from "../core/result.js";
import { type MissingGrams, missingGrams } from "../flags/missing-grams.js";
import type { HousingRow } from "../records/study.js";
import { type ChangeOfGain, changeOfGain } from "./change-of-gain.js";
import type { RivalExplanations } from "./explanations/explanation.js";
import { realByRivals } from "./explanations/real-by-rivals.js";
import { rivalExplanations } from "./explanations/rival-explanations.js";
import { windowOfCase } from "./explanations/slow-gainer-case.js";
import type { RealOrNot } from "./real-answer.js";
import { realOrNot } from "./real-or-not.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** Why one animal gains slowly, and what that rests on. */
export interface ExplainedSlowGain {
  readonly change: Result<"change-of-gain", ChangeOfGain>;
  readonly real: Result<"real-or-not", RealOrNot>;
  readonly missing: Result<"missing-grams", MissingGrams>;
  readonly explanations: Result<"rival-explanations", RivalExplanations>;
}

/**
 * Since when an animal gains slowly, how much is missing, and every explanation of
 * it: the change gives the window, and everything else speaks of that window.
 *
 * @example explainSlowGain(analysis, animal).explanations.value.rivals[0].rival // "thin batch"
 */
export function explainSlowGain(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  housing: readonly HousingRow[] = [],
): ExplainedSlowGain {
  const change = changeOfGain(analysis, animal);
  const real = realOrNot(analysis, animal, { change: change.value });
  const missing = missingGrams(analysis.series, animal.animalId, {
    ...windowOfCase(analysis.onDay, change.value),
    earlierSeasons: true,
  });
  const found = { change: change.value, real: real.value, missing: missing.value, housing };
  const explanations = rivalExplanations(analysis, animal, found);
  const { rivals } = explanations.value;
  return {
    change,
    real: { ...real, value: realByRivals(real.value, rivals) },
    missing,
    explanations,
  };
}
