import { execFileSync } from "node:child_process";
import { writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

/**
 * Writes a module of `src/flags/budget` whose figures a bench measured, laid out as the
 * formatter lays out every file: what a bench ships would else fail the lint of the next run.
 *
 * @param file name of the module, as "held-out-rates.ts"
 * @param head its lines up to the value: imports, what it is, `export const ... =`
 * @param value what was measured
 */
export function writeShipped(file: string, head: string, value: unknown): void {
  const path = fileURLToPath(new URL(`../../src/flags/budget/${file}`, import.meta.url));
  writeFileSync(path, `${head} ${JSON.stringify(value, null, 2)};\n`);
  const biome = createRequire(import.meta.url).resolve("@biomejs/biome/bin/biome");
  execFileSync(process.execPath, [biome, "format", "--write", path], { stdio: "ignore" });
}
