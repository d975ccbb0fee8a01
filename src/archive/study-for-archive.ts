import { leaveOutPeople } from "../analysis/leave-out-people.js";
import { isVouched } from "../analysis/vouch.js";
import { tableKeys, tableNames } from "../records/columns.js";
import type { Study } from "../records/study.js";
import { applyDecisions } from "../series/apply-decisions.js";
import { shortDigest, studyKey } from "./archive-names.js";
import { type ArchivedStudy, archiveFormat, setAsideCounts } from "./archived-study.js";
import { rowsOfStudy } from "./rows-of-study.js";
import type { TableRows } from "./table-rows.js";

export interface ForArchiveOptions {
  readonly facility: string;
  /** The name under which the study replaces itself when it comes again. */
  readonly name: string;
  /** Keep names and words of people. Default false. */
  readonly withPeople: boolean;
  readonly version: string;
}

/** A study ready to be written: what is said of it, and its rows when they are asked for. */
export interface StudyForArchive {
  readonly about: Omit<ArchivedStudy, "files">;
  /** Animals by their unique names, to be held against those of other studies. */
  readonly animals: readonly string[];
  rows(): TableRows[];
}

/**
 * Gets a study ready for an archive. People are left out unless asked for, before anything
 * is worked out. The same files read with the same settings by the same version give the
 * same generation.
 *
 * @example studyForArchive(study, { facility: "oak", name: "2024", withPeople: false, version: "0.1.0" }).about.generation
 */
export function studyForArchive(study: Study, options: ForArchiveOptions): StudyForArchive {
  const { facility, name, withPeople, version } = options;
  const kept = withPeople ? study : leaveOutPeople(study);
  const key = studyKey(facility, name);
  const inputs = [...study.inputs].sort((a, b) => (a.path < b.path ? -1 : 1));
  const digest = digestOf(inputs);
  const made = [facility, key, digest, version, String(withPeople), String(archiveFormat)];
  const written = new Set(allAnimals(study));
  // A number that stands for a name is told apart by its study: another study counts anew.
  const idOf = (id: string) => (written.has(id) ? `${facility}/${id}` : `${facility}/${key}/${id}`);
  const { applied, withoutRow } = decisionsOf(kept);
  const animals = [...new Set(allAnimals(kept))].map(idOf);
  return {
    animals,
    rows: () => rowsOfStudy(kept, facility, idOf),
    about: {
      facility,
      study: key,
      name: withPeople || isVouched(name) ? name : null,
      generation: `study-${shortDigest(...made)}`,
      title: withPeople || isVouched(kept.settings.title) ? kept.settings.title : null,
      zone: kept.settings.zone,
      feedingDayStartHour: kept.settings.feedingDayStartHour,
      withPeople,
      gramlineVersion: version,
      digest,
      inputs: kept.inputs,
      settings: kept.settings,
      counts: kept.counts,
      setAside: setAsideCounts(study),
      leftOut: leftOutRows(study, kept),
      decisions: { applied, withoutRow },
      animals: animals.length,
    },
  };
}

const allAnimals = (study: Study) =>
  [...study.tables.animals, ...(study.standIns ?? [])].map((a) => a.animalId);

function leftOutRows(study: Study, kept: Study): Record<string, number> {
  const fewer = tableNames.map((table) => {
    const key = tableKeys[table];
    const rows = ({ tables, ...beside }: Study) =>
      (key in tables ? tables[key as keyof typeof tables] : beside[key as "answers"])?.length ?? 0;
    return [table, rows(study) - rows(kept)] as const;
  });
  return Object.fromEntries(fewer.filter(([, n]) => n > 0));
}

const digestOf = (inputs: Study["inputs"]) =>
  shortDigest(...inputs.flatMap((file) => [file.path, file.sha256]));

function decisionsOf(study: Study) {
  const { notices } = applyDecisions(study.tables, study.decisions ?? []);
  const of = (code: string) => notices.filter((n) => n.code === code).length;
  return {
    applied: of("series-decision-applied"),
    withoutRow: of("series-decision-without-row"),
  };
}
