import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

/**
 * Where the large sets of reference values lie (made with general-purpose
 * statistics software; the scripts stand beside the values). They are not part
 * of the package: sweeps over them run where the folder exists and are skipped,
 * with a line that says so, where it does not.
 */
export const referenceFolder: string | null = (() => {
  const named = process.env["GRAMLINE_REFERENCE"];
  const beside = fileURLToPath(new URL("../../../shared/reference", import.meta.url));
  const folder = named ?? beside;
  return existsSync(folder) ? folder : null;
})();

/** Reads one JSON file of the reference folder. Call only where the folder exists. */
export function readReference<T>(path: string): T {
  return JSON.parse(readReferenceText(path)) as T;
}

/** Reads one text file of the reference folder. Call only where the folder exists. */
export function readReferenceText(path: string): string {
  if (referenceFolder === null) throw new Error("The reference folder is absent.");
  return readFileSync(join(referenceFolder, path), "utf8");
}
