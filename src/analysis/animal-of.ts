import { UsageError } from "../core/usage-error.js";
import { closestName } from "../records/closest-name.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/**
 * One animal of an analysis, by id or by name.
 *
 * @throws UsageError for an unknown one, naming what comes closest.
 * @example animalOf(analysis, "O24-02").name // "Nessock"
 */
export function animalOf(analysis: StudyAnalysis, idOrName: string): AnimalAnalysis {
  const wanted = idOrName.trim().toLowerCase();
  const found =
    analysis.animals.find((a) => a.animalId.toLowerCase() === wanted) ??
    analysis.animals.find((a) => a.name?.toLowerCase() === wanted);
  if (found !== undefined) return found;
  const near = closestName(
    idOrName.trim(),
    new Set(
      analysis.animals.flatMap((a) => (a.name === null ? [a.animalId] : [a.animalId, a.name])),
    ),
  );
  throw new UsageError({
    needed: "the id or name of an animal that was admitted by the day looked at",
    came: `"${idOrName}" is none of the ${analysis.animals.length} animals on ${analysis.onDay}`,
    where: "animalOf",
    todo: near === null ? "Look in the animals table, or choose a later day." : `Is ${near} meant?`,
  });
}
