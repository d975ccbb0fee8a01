import { mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { UsageError } from "../core/usage-error.js";

/**
 * Writes a file so that it is there whole or not at all: beside its place
 * first, then renamed. A file that another program holds open (a spreadsheet
 * on Windows) becomes a sentence.
 */
export function writeWhole(path: string, contents: string | Uint8Array): void {
  const beside = join(dirname(path), `.${basename(path)}.${process.pid}.part`);
  try {
    mkdirSync(dirname(path), { recursive: true });
    writeFileSync(beside, contents);
    renameSync(beside, path);
  } catch (error) {
    rmSync(beside, { force: true });
    const { code, message } = error as NodeJS.ErrnoException;
    throw new UsageError({
      needed: `to write ${basename(path)}`,
      came: `it cannot be written (${code ?? message})`,
      where: dirname(path),
      todo: "Close the file if another program has it open, and check that the folder is writable.",
    });
  }
}
