import { mkdir } from "node:fs/promises";
import { basename, dirname } from "node:path";
import { UsageError } from "../core/usage-error.js";
import { writeAtomically } from "../records/files/write-atomically.js";

/**
 * Writes a file of a report, its folder made when missing, whole or not at all.
 * A file that another program holds open (a spreadsheet on Windows) or a folder
 * that cannot be written becomes a sentence.
 */
export async function writeWhole(path: string, contents: string | Uint8Array): Promise<void> {
  try {
    await mkdir(dirname(path), { recursive: true });
    await writeAtomically(path, contents);
  } catch (error) {
    const { code, message } = error as NodeJS.ErrnoException;
    throw new UsageError({
      needed: `to write ${basename(path)}`,
      came: `it cannot be written (${code ?? message})`,
      where: dirname(path),
      todo: "Close the file if another program has it open, and check that the folder is writable.",
    });
  }
}
