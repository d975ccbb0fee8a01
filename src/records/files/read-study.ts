import { readdir, readFile, stat } from "node:fs/promises";
import { basename } from "node:path";
import { UsageError } from "../../core/usage-error.js";
import { parseStudy, type StudyInput } from "../parse-study.js";
import type { Study } from "../study.js";
import { openWorkbookApart } from "./open-workbook-apart.js";
import { pathWithin } from "./path-within.js";

/**
 * Reads a study folder: study.json and the tables beside it.
 *
 * @throws UsageError when the folder is not there, study.json or a required
 *   table or column is missing. Bad rows never throw; they are set aside.
 * @example (await readStudy("data-demo")).settings.title
 */
export async function readStudy(folder: string): Promise<Study> {
  return parseStudy(await readFolder(folder));
}

const readable = /\.(csv|tsv|tab|json|xlsx|xlsm|xls|ods)$/i;
/** A study is held in memory whole; about a million rows lie below this. */
const LARGEST = 48 * 2 ** 20;
const workbook = /\.(xlsx|xlsm|xls|ods)$/i;

/** The files of a study folder that can hold a table, and study.json; sheets already opened. */
export async function readFolder(folder: string): Promise<StudyInput[]> {
  const names = await readdir(folder).catch((error: NodeJS.ErrnoException) => {
    throw new UsageError({
      needed: "a folder with a study in it",
      came:
        error.code === "ENOTDIR"
          ? "a file came"
          : error.code === "ENOENT"
            ? "there is no such folder"
            : `it cannot be opened (${error.code ?? error.message})`,
      where: basename(folder) || folder,
      todo: "Check the spelling of the folder.",
    });
  });
  const inputs: StudyInput[] = [];
  const further = await Promise.all(names.map((name) => filesIn(folder, name)));
  for (const name of [...names, ...further.flat()].sort()) {
    if (!readable.test(name) || isHidden(basename(name))) continue;
    // A link inside the folder may lead out of it; such a file is not part of the study.
    const path = pathWithin(folder, name);
    const { size, isFile } = await stat(path).then((s) => ({ size: s.size, isFile: s.isFile() }));
    if (!isFile) continue;
    if (size > LARGEST)
      throw new UsageError({
        needed: `files of at most ${LARGEST / 2 ** 20} MB`,
        came: `it has ${Math.round(size / 2 ** 20)} MB`,
        where: name,
        todo: "Keep it in parts by season (weighings-2024.csv), or add it up with totalRecords, which reads files of any length.",
      });
    const bytes = await readFile(path);
    inputs.push(
      workbook.test(name)
        ? { path: name, bytes, sheets: await openWorkbookApart(name, bytes) }
        : { path: name, bytes },
    );
  }
  return inputs;
}

const isHidden = (name: string) => name.startsWith(".") || name.startsWith("~$");
/** A folder of pages, lists and copies that gramline wrote holds this; it is no part of a study. */
const writtenByUs = ".written-by-gramline.json";
/** More than this in one folder are no records of a nursery. */
const MOST_IN_FOLDER = 200;

/** The files of one folder inside the study's, as "2024/weighings.csv"; none for anything else. */
async function filesIn(folder: string, name: string): Promise<string[]> {
  if (isHidden(name) || name === "node_modules" || readable.test(name)) return [];
  let path: string;
  try {
    path = pathWithin(folder, name);
  } catch {
    return [];
  }
  const inside = await readdir(path).catch(() => [] as string[]);
  if (inside.includes(writtenByUs) || inside.includes("study.json")) return [];
  const files = inside.filter((file) => readable.test(file) && !isHidden(file));
  return files.length > MOST_IN_FOLDER ? [] : files.map((file) => `${name}/${file}`);
}
