import type { Study } from "../records/study.js";

/**
 * A study with some of its animals alone: rows of other animals are gone, rows that are of
 * no one animal (diets, batches, events, scale checks) stay. What was counted in its files
 * stays as it was counted.
 *
 * @example studyOfAnimals(study, (id) => id.startsWith("O25")).tables.animals.length // 8
 */
export function studyOfAnimals(study: Study, isKept: (animalId: string) => boolean): Study {
  const own = <Row extends { readonly animalId: string | null }>(rows: readonly Row[]) =>
    rows.filter((row) => row.animalId === null || isKept(row.animalId));
  const { tables, decisions, acknowledgements, answers, standIns } = study;
  return {
    ...study,
    tables: {
      ...tables,
      animals: own([...tables.animals]),
      weighings: own([...tables.weighings]),
      feeds: own([...tables.feeds]),
      plans: own([...tables.plans]),
      housing: own([...tables.housing]),
      observations: own([...tables.observations]),
    },
    ...(decisions && { decisions: own(decisions) }),
    ...(acknowledgements && { acknowledgements: own(acknowledgements) }),
    ...(answers && { answers: own(answers) }),
    ...(standIns && { standIns: own(standIns) }),
  };
}
