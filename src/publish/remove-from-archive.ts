import { join, relative, resolve } from "node:path";
import { studyKey } from "../archive/archive-names.js";
import { type ArchivedStudy, listName } from "../archive/archived-study.js";
import { UsageError } from "../core/usage-error.js";
import { changeArchive, exists } from "./archive-folder.js";

/**
 * Takes one study, or all of a facility, out of an archive: its rows, and its line in the list.
 *
 * @param study its name or key; null for every study of the facility.
 * @returns what was taken out.
 * @throws UsageError where it is not there; nothing is then changed.
 * @example (await removeFromArchive("houses", "oak", "2024")).length // 1
 */
export async function removeFromArchive(
  folder: string,
  facility: string,
  study: string | null,
): Promise<readonly ArchivedStudy[]> {
  // A folder that is no archive is not made into one.
  await requireArchive(folder);
  return changeArchive(folder, async ({ studies }) => {
    const isMeant = (s: ArchivedStudy) =>
      s.facility === facility &&
      (study === null ||
        s.study === study ||
        s.name === study ||
        s.study === studyKey(facility, study));
    const gone = studies.filter(isMeant);
    if (gone.length === 0) throw nothingThere(studies, facility, study);
    return { result: () => gone, studies: studies.filter((s) => !isMeant(s)), fresh: null };
  });
}

async function requireArchive(folder: string): Promise<void> {
  const out = resolve(folder);
  if (await exists(join(out, listName))) return;
  throw new UsageError({
    needed: `an archive: a folder with ${listName} in it`,
    came: (await exists(out)) ? "there is none in this folder" : "there is no such folder",
    where: relative(process.cwd(), out) || ".",
    todo: "Check the spelling of the folder. Nothing was changed.",
  });
}

function nothingThere(
  studies: readonly ArchivedStudy[],
  facility: string,
  study: string | null,
): UsageError {
  const facilities = [...new Set(studies.map((s) => s.facility))];
  const own = studies.filter((s) => s.facility === facility);
  return new UsageError({
    needed: own.length === 0 ? "a facility of the archive" : `a study of ${facility}`,
    came: `"${own.length === 0 ? facility : study}" is not there`,
    where: "archive remove",
    todo:
      own.length === 0
        ? facilities.length === 0
          ? "The archive is empty."
          : `Choose one of: ${facilities.join(", ")}.`
        : `Choose one of: ${own.map((s) => s.name ?? s.study).join(", ")}.`,
  });
}

/**
 * Which study is meant: one by name, or all, and never all by an option left out.
 *
 * @throws UsageError where neither or both are given.
 */
export function studyAsked(study: string | null, all: boolean): string | null {
  if ((study === null) === all) return study;
  throw new UsageError({
    needed: "one study (--study), or every study of the facility (--all)",
    came: all ? "both were given" : "neither was given",
    where: "archive remove",
    todo: "Write for example --study 2024, or --all.",
  });
}
