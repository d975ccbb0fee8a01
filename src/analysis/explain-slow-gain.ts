import type { Result } from "../core/result.js";
import { type MissingGrams, missingGrams } from "../flags/missing-grams.js";
import type { HousingRow } from "../records/study.js";
import { type ChangeOfGain, changeOfGain } from "./change-of-gain.js";
import { contemporaryChoice } from "./contemporaries-of.js";
import type { RivalExplanations } from "./explanations/explanation.js";
import { missingMass } from "./explanations/missing-mass.js";
import { realByRivals } from "./explanations/real-by-rivals.js";
import { rivalExplanations } from "./explanations/rival-explanations.js";
import { fastsIn } from "./explanations/slow-gainer-case.js";
import { spellsAround } from "./explanations/spells-around.js";
import { windowOfCase } from "./explanations/window-of-case.js";
import type { RealOrNot, Shortfall } from "./real-answer.js";
import { realOrNot } from "./real-or-not.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** Why one animal gains slowly, and what that rests on. */
export interface ExplainedSlowGain {
  readonly change: Result<"change-of-gain", ChangeOfGain>;
  readonly real: Result<"real-or-not", RealOrNot>;
  readonly missing: Result<"missing-grams", MissingGrams>;
  readonly explanations: Result<"rival-explanations", RivalExplanations>;
  /** Grams missing over the one window; null where too little was weighed. */
  readonly shortfall: Shortfall | null;
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
  const window = windowOfCase(analysis.onDay, change.value);
  const missing = missingGrams(analysis.series, animal.animalId, {
    ...contemporaryChoice(analysis),
    from: window.from,
    to: window.to,
  });
  const { now, before } = spellsAround(analysis, animal, window.from, window.to);
  const short = missingMass(missing.value, now, before).value;
  // In a fast nothing is missing that anybody expected.
  const fasts = fastsIn(analysis, animal, window.from);
  const shortfall = short === null || fasts ? null : { grams: short, since: window.from };
  const real = realOrNot(analysis, animal, { change: change.value, shortfall });
  const found = { change: change.value, real: real.value, missing: missing.value, housing };
  const explanations = rivalExplanations(analysis, animal, found);
  const { rivals } = explanations.value;
  return {
    change,
    real: { ...real, value: realByRivals(real.value, rivals) },
    missing,
    explanations,
    shortfall,
  };
}
