import { UsageError } from "../core/usage-error.js";
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
  const like = analysis.animals
    .filter((a) => a.animalId.slice(0, 2).toLowerCase() === wanted.slice(0, 2))
    .slice(0, 5)
    .map((a) => a.animalId);
  throw new UsageError({
    needed: "the id or name of an animal that was admitted by the day looked at",
    came: `"${idOrName}" is none of the ${analysis.animals.length} animals on ${analysis.onDay}`,
    where: "animalOf",
    todo:
      like.length > 0
        ? `Is one of these meant: ${like.join(", ")}?`
        : "Look in the animals table, or choose a later day.",
  });
}
