import { stat } from "node:fs/promises";
import { basename, join, resolve } from "node:path";
import { facilityName } from "../archive/archive-names.js";
import type { ArchivedStudy } from "../archive/archived-study.js";
import { type Engine, quoted } from "../archive/load-engine.js";
import { pathIn } from "../archive/open-archive.js";
import { type StudyForArchive, studyForArchive } from "../archive/study-for-archive.js";
import { type MadeFile, writeTable } from "../archive/write-parquet.js";
import type { LongWork } from "../core/long-work.js";
import { stopIfCancelled } from "../core/long-work.js";
import { UsageError } from "../core/usage-error.js";
import { readStudy } from "../records/files/read-study.js";
import type { Study } from "../records/study.js";
import { changeArchive } from "./archive-folder.js";
import { libraryVersion } from "./version.js";

export interface AddToArchiveOptions extends Pick<LongWork, "signal" | "onProgress"> {
  /** The folder of the archive; made where it is missing. */
  readonly to: string;
  /** The house that the rows are of: letters a to z, digits, "-" and "_". */
  readonly facility: string;
  /** The name under which a study replaces itself when it comes again. Default: its folder's, or "study". */
  readonly name?: string;
  /** Keep names and words of people. Default false. */
  readonly withPeople?: boolean;
}

export interface AddedToArchive {
  readonly state: "added" | "replaced" | "unchanged";
  readonly study: Omit<ArchivedStudy, "files">;
  /** Rows and bytes that stand in the archive for it. */
  readonly rows: number;
  readonly bytes: number;
}

/**
 * Adds a study to an archive. Added twice it changes nothing; corrected it replaces its own
 * rows; killed at any point the archive is as it was, or as it shall be.
 *
 * @param from the study's folder, or the study as it was read.
 * @throws UsageError where DuckDB is absent, the facility's name makes no folder, an animal
 *   of the facility is in the archive by another study, or files of others are in the way.
 * @example (await addToArchive("data-demo", { to: "houses", facility: "vossamerle" })).state // "added"
 */
export async function addToArchive(
  from: string | Study,
  options: AddToArchiveOptions,
): Promise<AddedToArchive> {
  const facility = facilityName(options.facility);
  const name = options.name ?? (typeof from === "string" ? basename(resolve(from)) : "study");
  const withPeople = options.withPeople ?? false;
  const out = resolve(options.to);
  const read = studyForArchive(typeof from === "string" ? await readStudy(from) : from, {
    facility,
    name,
    withPeople,
    version: libraryVersion(),
  });
  stopIfCancelled(options.signal);
  return changeArchive<AddedToArchive>(options.to, async ({ engine, studies, scratch }) => {
    const { about } = read;
    const own = studies.find((s) => s.facility === facility && s.study === about.study);
    refuseOtherCase(facility, studies);
    await refuseSharedAnimals(engine, out, read, studies, name);
    const result = (state: AddedToArchive["state"]) => (files: ArchivedStudy["files"]) => ({
      state,
      study: about,
      rows: files.reduce((n, f) => n + f.rows, 0),
      bytes: files.reduce((n, f) => n + f.bytes, 0),
    });
    if (own?.generation === about.generation && (await isWhole(out, own)))
      return { result: () => result("unchanged")(own.files), studies, fresh: null };
    const make = async () => {
      const made: MadeFile[] = [];
      const tables = read.rows();
      for (const [i, rows] of tables.entries()) {
        stopIfCancelled(options.signal);
        options.onProgress?.({ done: i, total: tables.length, doing: `writing ${rows.table}` });
        made.push(...(await writeTable(engine, rows, about, scratch)));
      }
      return made;
    };
    const others = studies.filter((s) => s !== own);
    const state = own === undefined ? "added" : "replaced";
    return { result: result(state), studies: others, fresh: { about, make } };
  });
}

/** Two folders whose names differ by capitals alone are one on many disks. */
function refuseOtherCase(facility: string, studies: readonly ArchivedStudy[]): void {
  const other = studies.find(
    (s) => s.facility !== facility && s.facility.toLowerCase() === facility.toLowerCase(),
  );
  if (other === undefined) return;
  throw new UsageError({
    needed: "one spelling of a facility",
    came: `"${facility}" was given, and the archive has "${other.facility}"`,
    where: "--facility",
    todo: `Write --facility ${other.facility}, or choose a name that differs by more than capitals.`,
  });
}

/** An id stands for one animal of a facility: counted by two studies it would count twice. */
async function refuseSharedAnimals(
  engine: Engine,
  out: string,
  read: StudyForArchive,
  studies: readonly ArchivedStudy[],
  name: string,
): Promise<void> {
  const { facility, study } = read.about;
  const mine = new Set(read.animals);
  for (const other of studies.filter((s) => s.facility === facility && s.study !== study)) {
    const files = other.files.filter((f) => f.table === "animals");
    if (files.length === 0) continue;
    const paths = files.map((f) => quoted(pathIn(out, f.path))).join(", ");
    const rows = await engine.rows(
      `SELECT DISTINCT animal, animal_id FROM read_parquet([${paths}], hive_partitioning = false) ORDER BY animal`,
    );
    const shared = rows.filter((row) => mine.has(String(row["animal"])));
    if (shared.length === 0) continue;
    const shown = shared
      .slice(0, 3)
      .map((row) => row["animal_id"])
      .join(", ");
    throw new UsageError({
      needed: "animals that no other study of the facility has",
      came: `${shared.length} of them (${shown}) are in the archive by the study "${other.name ?? other.study}" of ${facility}`,
      where: name,
      todo: "If this is that study, corrected: give the name it was added under with --name (its folder's, unless another was given). If it is another house: name another facility. Nothing was written.",
    });
  }
}

async function isWhole(out: string, study: ArchivedStudy): Promise<boolean> {
  for (const file of study.files) {
    const is = await stat(join(out, file.path)).catch(() => null);
    if (is === null || is.size !== file.bytes) return false;
  }
  return true;
}
