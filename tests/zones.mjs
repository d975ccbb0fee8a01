/**
 * Runs the tests of units, records and series, and one end-to-end test where it
 * exists, as they would run on computers in three time zones and two languages:
 * results must not depend on where a computer stands. Stops at the first that
 * fails. Plain Node: `node tests/zones.mjs`.
 */
import { spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";

const root = resolve(dirname(fileURLToPath(import.meta.url)), "..");
const vitest = join(root, "node_modules", "vitest", "vitest.mjs");
const wanted = ["tests/units", "tests/records", "tests/series", "tests/analysis/chicks"];
const there = wanted.filter(
  (path) => existsSync(join(root, path)) || existsSync(join(root, `${path}.test.ts`)),
);
const places = [
  { TZ: "UTC", LANG: "C.UTF-8", LC_ALL: "C.UTF-8" },
  { TZ: "America/New_York", LANG: "de_DE.UTF-8", LC_ALL: "de_DE.UTF-8" },
  { TZ: "Pacific/Auckland", LANG: "C.UTF-8", LC_ALL: "C.UTF-8" },
];

for (const place of places) {
  const name = `${place.TZ}, ${place.LANG}`;
  const run = spawnSync(
    process.execPath,
    [vitest, "run", ...there, "--maxWorkers=1", ...process.argv.slice(2)],
    {
      cwd: root,
      env: { ...process.env, ...place },
      stdio: "inherit",
    },
  );
  if (run.status !== 0) {
    console.error(`gramline: the tests failed under ${name}`);
    process.exit(run.status ?? 1);
  }
  console.log(`gramline: passed under ${name}`);
}
