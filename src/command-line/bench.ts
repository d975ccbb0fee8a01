import { existsSync, readdirSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";

/**
 * `npm run bench NAME`: runs `tests/bench/NAME.ts`, a script that measures and
 * prints; without a name, lists what there is. Started through tsx, because
 * benches are not part of the build.
 */
const folder = resolve(dirname(fileURLToPath(import.meta.url)), "..", "..", "tests", "bench");
const names = existsSync(folder)
  ? readdirSync(folder)
      .filter((file) => /^[a-z0-9-]+\.ts$/.test(file))
      .map((file) => file.replace(/\.ts$/, ""))
  : [];
const [wanted, ...rest] = process.argv.slice(2);

if (wanted === undefined || !names.includes(wanted)) {
  if (wanted !== undefined) console.error(`There is no bench called ${wanted}.`);
  console.error(`npm run bench NAME, where NAME is one of: ${names.join(", ") || "(none yet)"}`);
  process.exitCode = wanted === undefined ? 0 : 1;
} else {
  // The bench reads its own arguments where it always would.
  process.argv = [process.argv[0]!, join(folder, `${wanted}.ts`), ...rest];
  await import(pathToFileURL(join(folder, `${wanted}.ts`)).href);
}
