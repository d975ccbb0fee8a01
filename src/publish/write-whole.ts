import { constants, existsSync } from "node:fs";
import { access, mkdir } from "node:fs/promises";
import { basename, dirname, relative } from "node:path";
import { UsageError } from "../core/usage-error.js";
import { writeAtomically } from "../records/files/write-atomically.js";

/**
 * Writes a file of a report, its folder made when missing, whole or not at all.
 * A file that another program holds open (a spreadsheet on Windows), a full disk or a
 * folder that cannot be written becomes a sentence.
 *
 * @throws UsageError naming the path and the remedy; what was there before then stands.
 */
export async function writeWhole(path: string, contents: string | Uint8Array): Promise<void> {
  try {
    await makeFolder(dirname(path));
    await writeAtomically(path, contents);
  } catch (error) {
    throw cannotWrite(path, error as NodeJS.ErrnoException);
  }
}

/**
 * Makes a folder and those above it.
 *
 * @throws UsageError naming the path and the remedy.
 */
export async function makeFolder(path: string): Promise<void> {
  try {
    await mkdir(path, { recursive: true });
  } catch (error) {
    throw cannotWrite(path, await trueCause(path, error as NodeJS.ErrnoException));
  }
}

/** The system says of a folder on a disk that can be read only that it is not there. */
async function trueCause(path: string, error: NodeJS.ErrnoException) {
  if (error.code !== "ENOENT") return error;
  let there = dirname(path);
  while (!existsSync(there) && dirname(there) !== there) there = dirname(there);
  return access(there, constants.W_OK).then(
    () => error,
    (why: NodeJS.ErrnoException) => why,
  );
}

/** Why a path cannot be written, by the system's code, and what to do about it. */
const causes: Readonly<Record<string, readonly [came: string, todo: string]>> = {
  ENOSPC: ["the disk is full", "Free space there, or name a folder on another disk."],
  EDQUOT: [
    "your share of the disk is used up",
    "Free space there, or name a folder on another disk.",
  ],
  EFBIG: ["the file would be larger than is allowed there", "Name a folder on another disk."],
  EROFS: ["the disk can be read only", "Name a folder that you may write into."],
  EACCES: [
    "you may not write there",
    "Name a folder that you may write into, or ask for the right to.",
  ],
  EPERM: [
    "it may not be written, or another program has it open",
    "Close the file if another program has it open, or name another folder.",
  ],
  EBUSY: ["another program has it open", "Close it there, then run this again."],
  ENOTDIR: [
    "a file, or a link that leads nowhere, stands where a folder is needed",
    "Name another folder, or move that file away.",
  ],
  EEXIST: [
    "something stands there that is no folder, or a link that leads nowhere",
    "Name another folder, or remove it.",
  ],
  EISDIR: ["a folder stands there", "Name another file, or move the folder away."],
  ENOENT: [
    "the folder is not there, or a link to it leads nowhere",
    "Look where the link leads, or name another folder.",
  ],
  ELOOP: ["links there lead in a circle", "Remove the link, or name another folder."],
  ENAMETOOLONG: ["the name is too long for this disk", "Name a folder with a shorter path."],
};

/**
 * The sentence for a path that cannot be written.
 *
 * @example throw cannotWrite("out/day.html", error)
 */
export function cannotWrite(path: string, error: NodeJS.ErrnoException): Error {
  if (error instanceof UsageError) return error;
  const code = error.code ?? "";
  // What no system said is a fault of ours, and keeps its trace.
  if (code === "") return error;
  const [came, todo] = causes[code] ?? [
    `it cannot be written (${code})`,
    "Close the file if another program has it open, and check that the folder is writable.",
  ];
  return new UsageError({
    needed: `to write ${basename(path)}`,
    came: causes[code] === undefined ? came : `${came} (${code})`,
    where: relative(process.cwd(), dirname(path)) || ".",
    todo: `${todo} What was there before is as it was.`,
  });
}
