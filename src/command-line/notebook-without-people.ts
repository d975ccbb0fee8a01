import { existsSync, readFileSync } from "node:fs";
import { basename, join, resolve } from "node:path";
import { isVouched, isWordOfOurs } from "../analysis/vouch.js";
import { openArchive } from "../archive/open-archive.js";
import { UsageError } from "../core/usage-error.js";
import { joinedText, type NotebookFile, splitText } from "../report/renderers/notebook-file.js";

const reading =
  /\bawait (?:g\.readStudy\([^()]*\)|g\.notebook\.withProgress\(\(long\) => g\.readStudy\([^()]*\)\))/g;

/**
 * A notebook that leaves people out as soon as it has read a study: every figure and
 * sentence after that comes from what names nobody.
 *
 * @throws UsageError for one that reads a study in another way, which nobody can vouch for.
 * @example notebookWithoutPeople(readNotebook("notebooks/start-here.ipynb"), "start-here")
 */
export function notebookWithoutPeople(notebook: NotebookFile, name: string): NotebookFile {
  let readings = 0;
  const cells = notebook.cells.map((cell) => {
    if (cell.cell_type !== "code") return cell;
    const source = joinedText(cell.source);
    const found = [...source.matchAll(reading)].length;
    const all = [...source.matchAll(/\b(?:read|parse|total)[A-Z]\w*/g)].length;
    if (found !== all) throw cannotVouch(name, "it reads records in a way of its own");
    if (found === 0) return cell;
    readings += found;
    const without = source.replace(reading, "leaveOutPeople($&)");
    return { ...cell, source: splitText(`${importing}${without}`) };
  });
  if (readings === 0) throw cannotVouch(name, "it reads no study by g.readStudy");
  return { ...notebook, cells };
}

/**
 * Refuses a notebook that is not, byte for byte, one of those that come with gramline: what
 * somebody wrote into it, titles and remarks included, goes into its page.
 *
 * @throws UsageError naming it.
 */
export function requireShipped(path: string, shipped: string): void {
  const name = basename(path);
  const bytes = (file: string) => (existsSync(file) ? readFileSync(file, "utf8") : null);
  if (bytes(path) === bytes(join(shipped, name))) return;
  throw cannotVouch(name, "it is not as it came with gramline");
}

const importing = 'import { leaveOutPeople } from "gramline/node";\n';

function cannotVouch(name: string, came: string): UsageError {
  return new UsageError({
    needed: "a notebook that comes with gramline, as it came",
    came,
    where: name,
    todo: "Run it without --without-people, or write a report without people: gramline report --without-people.",
  });
}

/** Parameters that are folders: they are hidden in the copy, and what lies there is looked at. */
export const folderParameters = ["studyFolder", "archiveFolder"];

/**
 * Refuses values that could bring people into pages without them: a text that nobody can
 * vouch for, which the copy would repeat, and an archive that keeps people.
 *
 * @param notebooks the folder that paths of notebooks are seen from.
 * @throws UsageError naming the parameter.
 */
export async function requireNamingNobody(
  parameters: Readonly<Record<string, unknown>>,
  notebooks: string,
): Promise<void> {
  for (const [name, value] of Object.entries(parameters)) {
    if (typeof value !== "string" || folderParameters.includes(name)) continue;
    if (isVouched(value) || isWordOfOurs(value)) continue;
    throw new UsageError({
      needed: "a value that names nobody",
      came: `"${value}" was given, which nobody can vouch for`,
      where: `--set ${name}`,
      todo: "Give an animal by its code, or by the number that pages without people give it.",
    });
  }
  const folder = parameters["archiveFolder"];
  if (typeof folder === "string" && folder !== "null")
    await requireArchiveOfNobody(resolve(notebooks, folder));
}

async function requireArchiveOfNobody(folder: string): Promise<void> {
  const archive = await openArchive(folder);
  archive.close();
  const named = archive.studies.find((study) => study.withPeople);
  if (named === undefined) return;
  throw new UsageError({
    needed: "an archive without people",
    came: `a study of ${named.facility} was added to it with people`,
    where: "--set archiveFolder",
    todo: "Add that study again without --with-people, or run this without --without-people.",
  });
}

/** The executed copy without the path of a folder, which may name somebody. */
export function withoutPath(notebook: NotebookFile, path: string, word: string): NotebookFile {
  const written = JSON.stringify(path);
  return {
    ...notebook,
    cells: notebook.cells.map((cell) => {
      const source = joinedText(cell.source);
      if (!source.includes(written)) return cell;
      return { ...cell, source: splitText(source.replaceAll(written, JSON.stringify(word))) };
    }),
  };
}
