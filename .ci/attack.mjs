// Runs everything in tests/attack at full size and says how many held.
import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

const work = mkdtempSync(join(tmpdir(), "gramline-attack-"));
/** Processor time of what this process started and saw end, in seconds; on a busy machine the clock says little. */
function processorSeconds() {
  const stat = "/proc/self/stat";
  if (!existsSync(stat)) return null;
  const fields = readFileSync(stat, "utf8").replace(/^.*\) /s, "").split(" ");
  // See proc(5): cutime and cstime, in hundredths of a second.
  return (Number(fields[13]) + Number(fields[14])) / 100;
}
const report = join(work, "attacks.json");
const started = Date.now();
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
  const { numPassedTests, numTotalTests, numPendingTests } = JSON.parse(
    readFileSync(report, "utf8"),
  );
  const minutes = ((Date.now() - started) / 60_000).toFixed(1);
  // Some need a right that this user has not, or has too much of: an administrator may open every folder.
  const processor = processorSeconds();
  console.log(`${numPendingTests} cannot be tried by this user or on this machine`);
  console.log(
    `${minutes} minutes${processor === null ? "" : `, ${processor.toFixed(0)} s of processor time`}`,
  );
  console.log(`attack: ${numPassedTests} of ${numTotalTests - numPendingTests} held`);
} catch {
  console.log("attack: could not be run");
}
rmSync(work, { recursive: true, force: true });
process.exitCode = run.status === 0 ? 0 : 1;
