// Runs everything in tests/attack at full size and says how many held.
import { spawnSync } from "node:child_process";
import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const work = mkdtempSync(join(tmpdir(), "gramline-attack-"));
const report = join(work, "attacks.json");
const run = spawnSync(
  process.execPath,
  [
    join("node_modules", "vitest", "vitest.mjs"),
    "run",
    "tests/attack",
    "--reporter=default",
    "--reporter=json",
    `--outputFile.json=${report}`,
  ],
  { stdio: "inherit", env: { ...process.env, ATTACKS: "all" } },
);
try {
  const { numPassedTests, numTotalTests } = JSON.parse(readFileSync(report, "utf8"));
  console.log(`attack: ${numPassedTests} of ${numTotalTests} held`);
} catch {
  console.log("attack: could not be run");
}
rmSync(work, { recursive: true, force: true });
process.exitCode = run.status === 0 ? 0 : 1;
