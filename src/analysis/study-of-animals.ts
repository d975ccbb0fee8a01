import { tableKeys } from "../records/columns.js";
import type { ReadRow, SetAsideRow, Study, StudyTables, TableCount } from "../records/study.js";

/**
 * A study with some of its animals alone: rows of other animals are gone, rows that are of
 * no one animal (diets, batches, events, scale checks) stay. Of the rows set aside those
 * stay that name one of its animals; the counts are those of what stayed.
 *
 * @example studyOfAnimals(study, (id) => id.startsWith("O25")).tables.animals.length // 8
 */
export function studyOfAnimals(study: Study, isKept: (animalId: string) => boolean): Study {
  const own = <Row extends { readonly animalId: string | null }>(rows: readonly Row[]) =>
    rows.filter((row) => row.animalId === null || isKept(row.animalId));
  const { tables, decisions, acknowledgements, answers, standIns } = study;
  const kept: Study = {
    ...study,
    setAside: study.setAside.filter((row) => row.raw.some((cell) => isKept(cell.trim()))),
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
  return { ...kept, counts: study.counts.map((count) => countOf(kept, count)) };
}

/** Rows of one file that stayed. */
function countOf(kept: Study, count: TableCount): TableCount {
  const { file, table } = count;
  const from = (rows: Iterable<ReadRow>) =>
    [...rows].filter((row) => row.origin.file === file).length;
  const key = tableKeys[table];
  const accepted = from(
    key in kept.tables
      ? kept.tables[key as keyof StudyTables]
      : (kept[key as "decisions" | "acknowledgements" | "answers"] ?? []),
  );
  const setAside = kept.setAside.filter(
    (row: SetAsideRow) => row.file === file && row.table === table,
  ).length;
  return {
    ...count,
    accepted,
    setAside,
    rowsIn: accepted + setAside,
    acceptedWithNotice: Math.min(count.acceptedWithNotice, accepted),
  };
}
