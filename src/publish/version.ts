import { readFileSync } from "node:fs";

/** The version in package.json, which lies beside `dist` and `src` alike. */
export function libraryVersion(): string {
  const path = new URL("../../package.json", import.meta.url);
  return (JSON.parse(readFileSync(path, "utf8")) as { version: string }).version;
}
