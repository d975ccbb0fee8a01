import type { Stats } from "node:fs";
import { readdir, readFile, stat } from "node:fs/promises";
import { basename, join } from "node:path";
import type { LongWork } from "../../core/long-work.js";
import { sizeLimits } from "../../core/size-limits.js";
import { runStepsInTurns } from "../../core/steps.js";
import { UsageError } from "../../core/usage-error.js";
import { parseStudySteps, type StudyInput } from "../parse-study.js";
import type { Study } from "../study.js";
import { nearestFolder } from "./nearest-folder.js";
import { openWorkbookApart } from "./open-workbook-apart.js";
import { pathWithin } from "./path-within.js";

/**
 * Reads a study folder: study.json and the tables beside it.
 *
 * @throws UsageError when the folder is not there, study.json or a required
 *   table or column is missing. Bad rows never throw; they are set aside.
 * @example (await readStudy("data-demo")).settings.title
 */
export async function readStudy(folder: string, work: LongWork = {}): Promise<Study> {
  return runStepsInTurns(parseStudySteps(await readFolder(folder)), work);
}

const readable = /\.(csv|tsv|tab|json|xlsx|xlsm|xls|ods)$/i;
const workbook = /\.(xlsx|xlsm|xls|ods)$/i;

/** A file of a study's folder, and what tells whether it has changed. */
export interface StudyFile {
  /** Relative to the folder. */
  readonly name: string;
  readonly path: string;
  readonly size: number;
  /** Size and times as one text: another text, another content. */
  readonly stamp: string;
  /** Of a folder that holds too many to be read: how many. */
  readonly tablesInside?: number;
}

/** Files read before, by name: one that has not changed is not opened again. */
export type KeptFiles = Map<string, { readonly stamp: string; readonly input: StudyInput }>;

/**
 * The files of a study folder that can hold a table, and study.json; sheets already opened.
 *
 * @param kept what a long-lived process keeps between two readings; brought up to date.
 */
export async function readFolder(folder: string, kept?: KeptFiles): Promise<StudyInput[]> {
  const inputs: StudyInput[] = [];
  const files = await filesOfStudy(folder);
  refuseTooLong(files);
  for (const file of files) {
    const { name, stamp } = file;
    const known = kept?.get(name);
    const input = known?.stamp === stamp ? known.input : await readOne(file);
    kept?.set(name, { stamp, input });
    inputs.push(input);
  }
  for (const name of [...(kept?.keys() ?? [])])
    if (!files.some((file) => file.name === name)) kept?.delete(name);
  return inputs;
}

/** A study is held in memory whole: what would not fit is refused before anything is read. */
function refuseTooLong(files: readonly StudyFile[]): void {
  const mb = (bytes: number) => Math.round(bytes / 2 ** 20);
  const archive =
    "Many seasons or houses belong into an archive, each as a study of its own (gramline archive add); totalRecords adds up files of any length.";
  const long = files.find(({ size }) => size > sizeLimits.fileBytes);
  if (long !== undefined)
    throw new UsageError({
      needed: `files of at most ${mb(sizeLimits.fileBytes)} MB`,
      came: `it has ${mb(long.size)} MB`,
      where: long.name,
      todo: `Keep it in parts by season (weighings-2024.csv). ${archive}`,
    });
  const all = files.reduce((sum, { size }) => sum + size, 0);
  if (all > sizeLimits.studyBytes)
    throw new UsageError({
      needed: `a study whose files have at most ${mb(sizeLimits.studyBytes)} MB together`,
      came: `${files.length} files have ${mb(all)} MB`,
      where: "study folder",
      todo: archive,
    });
}

async function readOne({ name, path, stamp, tablesInside }: StudyFile): Promise<StudyInput> {
  if (tablesInside !== undefined) return { path: name, bytes: new Uint8Array(), tablesInside };
  const bytes = await readWhole(name, path, stamp);
  return workbook.test(name)
    ? { path: name, bytes, sheets: await openWorkbookApart(name, bytes) }
    : { path: name, bytes };
}

/**
 * The bytes of a file that stood still while they were read: of one that another program
 * is writing, the last row may be half there, and half a mass is a mass.
 */
async function readWhole(name: string, path: string, stamp: string): Promise<Uint8Array> {
  let before = stamp;
  for (let tries = 0; tries < 20; tries++) {
    try {
      const bytes = await readFile(path);
      const after = stampOf(await stat(path));
      if (after === before) return bytes;
      before = after;
    } catch (error) {
      throw unreadable(name, error as NodeJS.ErrnoException);
    }
    await new Promise((resume) => setTimeout(resume, 100));
  }
  throw new UsageError({
    needed: "a file that stands still while it is read",
    came: "another program went on writing it for two seconds",
    where: name,
    todo: "Wait until it is written, or close it there, then try again.",
  });
}

/** The files that a reading of the folder opens, in order of their names. */
export async function filesOfStudy(folder: string): Promise<StudyFile[]> {
  const names = await readdir(folder).catch(async (error: NodeJS.ErrnoException) => {
    const near = error.code === "ENOENT" ? await nearestFolder(folder) : null;
    throw new UsageError({
      needed: "a folder with a study in it",
      came:
        error.code === "ENOTDIR"
          ? "a file came"
          : error.code === "ENOENT"
            ? "there is no such folder"
            : `it cannot be opened (${error.code ?? error.message})`,
      where: basename(folder) || folder,
      todo: near === null ? "Check the spelling of the folder." : `Is ${near} meant?`,
    });
  });
  const found: StudyFile[] = [];
  const further = await Promise.all(names.map((name) => filesIn(folder, name)));
  for (const [at, inside] of further.entries())
    if (typeof inside === "number") found.push(tooFull(names[at]!, inside));
  const listed = further.flatMap((inside) => (typeof inside === "number" ? [] : inside));
  for (const name of [...names, ...listed].sort()) {
    if (!readable.test(name) || isHidden(basename(name))) continue;
    // A link inside the folder may lead out of it; such a file is not part of the study.
    const path = pathWithin(folder, name);
    const is = await stat(path).catch((error) => {
      throw unreadable(name, error);
    });
    if (!is.isFile()) throw noFile(name, is);
    found.push({ name, path, size: is.size, stamp: stampOf(is) });
  }
  return found;
}

const tooFull = (name: string, tablesInside: number): StudyFile => ({
  name: `${name}/`,
  path: "",
  size: 0,
  stamp: String(tablesInside),
  tablesInside,
});

const stampOf = (is: Stats) => `${is.size} ${is.mtimeMs} ${is.ctimeMs} ${is.ino}`;

/** What is called as a table is and holds no bytes to read: left out, its rows would be missed by nobody. */
function noFile(name: string, is: Stats): UsageError {
  return new UsageError({
    needed: "a file that can be read",
    came: is.isDirectory() ? "a folder is called so" : "it is a pipe or a device, not a file",
    where: name,
    todo: "Give it another name, or take it out of the study's folder.",
  });
}

/** A file that was listed and cannot be read: a link that leads nowhere, one just taken away, one locked. */
function unreadable(name: string, error: NodeJS.ErrnoException): UsageError {
  // The system hands out names as bytes; what is no UTF-8 in them cannot be asked for again.
  if (error.code === "ENOENT" && name.includes("\ufffd"))
    return new UsageError({
      needed: "a name in UTF-8",
      came: "some of its letters are in another encoding, so that it cannot be opened",
      where: name,
      todo: "Rename it, letters a to z will do, then try again.",
    });
  return new UsageError({
    needed: "a file that can be read",
    came:
      error.code === "ENOENT"
        ? "it leads nowhere, or was taken away while it was read"
        : `it cannot be read (${error.code ?? error.message})`,
    where: name,
    todo: "Look whether it is still in its place and not locked by another program, then try again.",
  });
}

const isHidden = (name: string) => name.startsWith(".") || name.startsWith("~$");
/** The list of what gramline wrote into a folder; what it names is no part of a study. */
const writtenByUs = ".written-by-gramline.json";

/**
 * The files of one folder inside the study's, as "2024/weighings.csv"; where they are too
 * many to be records of a nursery, their number; none for anything else.
 */
async function filesIn(folder: string, name: string): Promise<string[] | number> {
  if (isHidden(name) || name === "node_modules" || readable.test(name)) return [];
  let path: string;
  try {
    path = pathWithin(folder, name);
  } catch {
    return [];
  }
  const inside = await readdir(path).catch((error: NodeJS.ErrnoException): string[] => {
    // Most are other files. A folder that stays shut, or cannot be called, may hold records.
    const isShut = error.code === "EACCES" && name !== "lost+found";
    if (!isShut && !(error.code === "ENOENT" && name.includes("\ufffd"))) return [];
    throw unreadable(name, error);
  });
  if (inside.includes("study.json")) return [];
  const ours = inside.includes(writtenByUs) ? await writtenInto(path) : new Set<string>();
  if (ours === "all") return [];
  const files = inside.filter((file) => readable.test(file) && !isHidden(file) && !ours.has(file));
  return files.length > sizeLimits.filesInFolder
    ? files.length
    : files.map((file) => `${name}/${file}`);
}

/**
 * What of a folder gramline wrote: a page put among somebody's records must not hide them.
 * A list without sets stands in a folder that was made whole; one that cannot be read hides
 * nothing.
 */
async function writtenInto(path: string): Promise<ReadonlySet<string> | "all"> {
  const text = await readFile(join(path, writtenByUs), "utf8").catch(() => "");
  try {
    const { sets } = JSON.parse(text) as { sets?: Readonly<Record<string, unknown>> };
    return sets === undefined ? "all" : new Set(Object.values(sets).flat().map(String));
  } catch {
    return new Set();
  }
}
