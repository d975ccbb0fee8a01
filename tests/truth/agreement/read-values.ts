import { readFileSync } from "node:fs";

/** A file of values beside these, as it was written. */
export function readValues<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(`./values/${name}.json`, import.meta.url), "utf8")) as T;
}
