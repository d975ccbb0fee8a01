import { UsageError } from "../core/usage-error.js";
import { closestName } from "../records/closest-name.js";
import type { Study } from "../records/study.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/**
 * One animal of an analysis, by id or by name.
 *
 * @throws UsageError for an unknown one, naming what comes closest.
 * @example animalOf(analysis, "O25-04").name // "Kerbuzzle"
 */
export function animalOf(analysis: StudyAnalysis, idOrName: string): AnimalAnalysis {
  const wanted = idOrName.trim().toLowerCase();
  const found =
    analysis.animals.find((a) => a.animalId.toLowerCase() === wanted) ??
    analysis.animals.find((a) => a.name?.toLowerCase() === wanted);
  if (found !== undefined) return found;
  const known = analysis.animals.flatMap((a) => [a.animalId, ...(a.name === null ? [] : [a.name])]);
  throw noSuchAnimal(
    idOrName,
    known,
    `the ${analysis.animals.length} animals on ${analysis.onDay}`,
  );
}

/**
 * Refuses an animal that the records do not know at all, before anything is
 * computed: a slip in a name costs no time.
 *
 * @throws UsageError naming what comes closest.
 * @example requireAnimal(study, "O25-O4") // throws: Is O25-04 meant?
 */
export function requireAnimal(study: Study, idOrName: string): void {
  const { animals, weighings } = study.tables;
  const known = new Set([
    ...animals.flatMap((a) => [a.animalId, ...(a.name === null ? [] : [a.name])]),
    ...weighings.map((w) => w.animalId),
  ]);
  const wanted = idOrName.trim().toLowerCase();
  for (const each of known) if (each.toLowerCase() === wanted) return;
  throw noSuchAnimal(idOrName, [...known], `the animals of this study`);
}

function noSuchAnimal(idOrName: string, known: readonly string[], among: string): UsageError {
  const near = closestName(idOrName.trim(), new Set(known));
  return new UsageError({
    needed: "the id or name of an animal that was admitted by the day looked at",
    came: `"${idOrName}" is none of ${among}`,
    where: "the animal asked about",
    todo: near === null ? "Look in the animals table, or choose a later day." : `Is ${near} meant?`,
  });
}
