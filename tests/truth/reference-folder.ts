import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";

/**
 * Figures made with general statistics software, certified values and the open data
 * sets behind them; where each comes from stands in the folder's SOURCE.md. They are
 * part of the repository, never of the package.
 */
const folder = fileURLToPath(new URL("../fixtures/reference", import.meta.url));

/** Reads one JSON file of the reference folder. */
export function readReference<T>(path: string): T {
  return JSON.parse(readReferenceText(path)) as T;
}

/** Reads one text file of the reference folder. */
export function readReferenceText(path: string): string {
  return readFileSync(`${folder}/${path}`, "utf8");
}
