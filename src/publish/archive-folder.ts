import { createHash } from "node:crypto";
import { lstat, readdir, readFile, rm, rmdir } from "node:fs/promises";
import { dirname, join, relative, resolve } from "node:path";
import { type ArchivedFile, type ArchivedStudy, listName } from "../archive/archived-study.js";
import { archivedTableNames } from "../archive/archived-tables.js";
import { type Engine, loadEngine } from "../archive/load-engine.js";
import { readList } from "../archive/open-archive.js";
import { type MadeFile, writeList } from "../archive/write-parquet.js";
import { UsageError } from "../core/usage-error.js";
import { aloneIn } from "./folder-lock.js";
import { manifestName, readManifest, writeManifest } from "./manifest.js";
import { refuseStrangers } from "./write-set.js";
import { writeWhole } from "./write-whole.js";

/** The set under which the list of an archive stands in the list of what was written. */
const archiveSet = "archive";

/** What a change of an archive works with, alone in its folder. */
export interface ArchiveAtWork {
  readonly engine: Engine;
  /** The studies in force now. */
  readonly studies: readonly ArchivedStudy[];
  /** A folder for what is half done, with "/" on every system. */
  readonly scratch: string;
}

/** What a change comes to: the studies that shall be in force, and how to make new files. */
export interface ArchiveChange<T> {
  /** What to hand back, given the new files. */
  result(files: readonly ArchivedFile[]): T;
  readonly studies: readonly ArchivedStudy[];
  /** The study whose files are new; null where none are. */
  readonly fresh: {
    readonly about: Omit<ArchivedStudy, "files">;
    make(): Promise<readonly MadeFile[]>;
  } | null;
}

/**
 * Changes an archive so that at every moment the old studies or the new ones are in force,
 * whole: new files are put beside the old ones, then the list of studies is replaced by one
 * rename, then what the list no longer names goes. What a run that was killed left behind
 * goes at the next change.
 *
 * @throws UsageError where DuckDB is absent, another run is at work there, or files of
 *   others are in the way; what was in force then stays.
 */
export async function changeArchive<T>(
  folder: string,
  decide: (at: ArchiveAtWork) => Promise<ArchiveChange<T>>,
): Promise<T> {
  const out = resolve(folder);
  await requirePlace(out);
  return aloneIn(out, async (lock) => {
    const scratch = lock.replaceAll("\\", "/");
    const engine = await loadEngine({ scratch: `${scratch}/engine` });
    try {
      const { sets, generations } = await readManifest(out);
      await refuseStrangers(out, [listName], sets[archiveSet] ?? []);
      const isThere =
        (sets[archiveSet] ?? []).includes(listName) && (await exists(join(out, listName)));
      const before = isThere ? await readList(engine, out) : [];
      const change = await decide({ engine, studies: before, scratch });
      const known = generations[archiveSet] ?? [];
      const noted = (names: readonly string[]) =>
        writeManifest(out, {
          sets: { ...sets, [archiveSet]: [listName] },
          generations: { ...generations, [archiveSet]: [...new Set(names)] },
        });
      let after = change.studies;
      let files: ArchivedFile[] = [];
      if (change.fresh !== null) {
        const { about, make } = change.fresh;
        // Listed before it is made: a run that is killed leaves nothing that nobody knows.
        await noted([...known, about.generation]);
        files = await putInPlace(out, await make(), known, about.generation);
        after = [...after, { ...about, files }].sort(inOrder);
      }
      const inForce = after.map((s) => s.generation);
      const dead = known.filter((name) => !inForce.includes(name));
      if (after !== before) {
        await noted([...known, ...inForce]);
        await writeList(engine, after, `${scratch}/${listName}`);
        await writeWhole(join(out, listName), await readFile(join(lock, listName)));
      }
      if (dead.length > 0) await removeFiles(out, (name) => dead.includes(name));
      if (after !== before || dead.length > 0) await noted(inForce);
      return change.result(files);
    } finally {
      engine.close();
    }
  });
}

const inOrder = (a: ArchivedStudy, b: ArchivedStudy) =>
  a.facility < b.facility || (a.facility === b.facility && a.study < b.study) ? -1 : 1;

export const exists = (path: string) =>
  lstat(path).then(
    () => true,
    () => false,
  );

/** An archive lies in a folder of its own: in none with records, and in none with files of others. */
async function requirePlace(out: string): Promise<void> {
  const names = await readdir(out).catch((error: NodeJS.ErrnoException) => {
    if (error.code === "ENOENT") return [] as string[];
    throw wrongPlace(
      out,
      error.code === "ENOTDIR" ? "a file stands there" : `it cannot be read (${error.code})`,
    );
  });
  if (names.includes("study.json"))
    throw wrongPlace(out, "a study's own folder was named (it holds study.json)");
  const others = names.filter((name) => !name.startsWith("."));
  if (others.length > 0 && !names.includes(manifestName))
    throw wrongPlace(out, `files of others are there (${others.slice(0, 3).join(", ")})`);
}

function wrongPlace(out: string, came: string): UsageError {
  return new UsageError({
    needed: "an archive, or a folder that is empty or not there yet",
    came,
    where: relative(process.cwd(), out) || ".",
    todo: "Name another folder. Nothing was written.",
  });
}

/** Puts new files in their places, over nothing that gramline did not write. */
async function putInPlace(
  out: string,
  made: readonly MadeFile[],
  known: readonly string[],
  generation: string,
): Promise<ArchivedFile[]> {
  // Files of this very generation are what a run that was killed left, or what was damaged.
  const ours = known.includes(generation) ? made.map((file) => file.path) : [];
  for (const { path } of made) await requireFolders(out, path);
  await refuseStrangers(
    out,
    made.map((file) => file.path),
    ours,
  );
  const files: ArchivedFile[] = [];
  for (const { path, table, season, rows, madeAt } of made) {
    const bytes = await readFile(madeAt);
    await writeWhole(join(out, path), bytes);
    await rm(madeAt);
    const sha256 = createHash("sha256").update(bytes).digest("hex");
    files.push({ path, table, season, rows, bytes: bytes.length, sha256 });
  }
  return files;
}

/** The folders above a file are folders, and no links that lead out of the archive. */
async function requireFolders(out: string, path: string): Promise<void> {
  for (let at = dirname(path); at !== "."; at = dirname(at)) {
    const is = await lstat(join(out, at)).catch(() => null);
    if (is === null || is.isDirectory()) continue;
    throw new UsageError({
      needed: `a folder ${at}`,
      came: "a file or a link of that name is there that gramline did not write",
      where: relative(process.cwd(), out) || ".",
      todo: "Move it away or name another folder. Nothing was written.",
    });
  }
}

/** Every Parquet file under the folders of an archive, relative to it with "/". */
export async function filesOfArchive(out: string): Promise<string[]> {
  const found: string[] = [];
  const look = async (folder: string) => {
    const inside = await readdir(join(out, folder), { withFileTypes: true }).catch(() => []);
    for (const entry of inside) {
      const path = `${folder}/${entry.name}`;
      if (entry.isDirectory()) await look(path);
      else if (entry.name.endsWith(".parquet")) found.push(path);
    }
  };
  for (const table of archivedTableNames) await look(table);
  return found.sort();
}

/** Removes the files of generations, and folders that hold nothing then. */
async function removeFiles(out: string, isDead: (generation: string) => boolean): Promise<void> {
  for (const path of await filesOfArchive(out)) {
    const name = path.slice(path.lastIndexOf("/") + 1, -".parquet".length);
    if (!isDead(name)) continue;
    await rm(join(out, path), { force: true });
    for (let at = dirname(path); at !== "."; at = dirname(at)) {
      const gone = await rmdir(join(out, at)).then(
        () => true,
        () => false,
      );
      if (!gone) break;
    }
  }
}
