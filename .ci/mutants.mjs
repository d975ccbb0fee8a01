/**
 * Changes single decisions of the files that decide (tests/mutants/deciding-files.json) and
 * counts how many of the changes their tests notice. Stryker is installed in a folder
 * of its own, outside the project's dependencies, and stays there for the next run. The tests
 * run in one process (mutants-runner), some seconds of processor time a file.
 *
 *     npm run mutants                        every file of the list
 *     npm run mutants apportion-grams loss-  the files whose names hold one of the words
 *     npm run mutants changed                those that have changed since their score
 *
 * String literals and static mutants are left out; tests of goldens and snapshots are not
 * asked, only those that the list names. A mutant that no test reaches has survived.
 */
import { execFileSync, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { transformSync } from "esbuild";

const version = "9.6.1";
const root = fileURLToPath(new URL("..", import.meta.url));
const home = join(tmpdir(), `gramline-mutants-${version}`);
const results = join(root, "tests/mutants/scores.json");
const list = JSON.parse(readFileSync(join(root, "tests/mutants/deciding-files.json"), "utf8"));
const words = process.argv.slice(2);
const scored = existsSync(results) ? JSON.parse(readFileSync(results, "utf8")) : {};
const hasChanged = (file) => scored[file]?.decisions !== decisionsOf(file);
const chosen = Object.keys(list).filter(
  (file) =>
    words.length === 0 ||
    words.some((word) => (word === "changed" ? hasChanged(file) : file.includes(word))),
);
if (chosen.length === 0 && words.every((word) => word === "changed")) {
  console.log("mutants: no file of the list has changed since its score");
  process.exit(0);
}
if (chosen.length === 0) {
  console.error(`mutants: no file of the list holds ${words.join(" or ")}`);
  process.exit(1);
}

install();
// Two runs at once keep out of each other's way.
const own = mkdtempSync(join(home, "run-"));
let below = 0;
for (const file of chosen) if (!measure(file)) below++;
rmSync(own, { recursive: true, force: true });
process.exit(below === 0 ? 0 : 1);

/** Stryker in a folder of its own, with the project's compiler, which it looks for beside itself. */
function install() {
  if (!existsSync(join(home, "node_modules/@stryker-mutator/core"))) {
    mkdirSync(home, { recursive: true });
    writeFileSync(join(home, "package.json"), '{ "private": true }\n');
    const how = ["install", "--no-audit", "--no-fund", `@stryker-mutator/core@${version}`];
    execFileSync("npm", how, { cwd: home, stdio: "inherit" });
  }
  const link = join(home, "node_modules/typescript");
  rmSync(link, { recursive: true, force: true });
  symlinkSync(join(root, "node_modules/typescript"), link, "junction");
}

/** A digest of what a file does: comments, types and layout decide nothing. */
function decisionsOf(file) {
  const source = readFileSync(join(root, "src", file), "utf8");
  const { code } = transformSync(source, { loader: "ts", minifyWhitespace: true });
  return createHash("sha256").update(code).digest("hex").slice(0, 16);
}

/** Runs one file and enters its score; whether it is at least what is asked. */
function measure(file) {
  const report = join(own, "report.json");
  const settings = join(own, "stryker.config.json");
  rmSync(report, { force: true });
  writeFileSync(
    settings,
    JSON.stringify({
      mutate: [`src/${file}`],
      testRunner: "direct",
      plugins: [join(root, ".ci/mutants-runner.mjs")],
      coverageAnalysis: "perTest",
      ignoreStatic: true,
      mutator: { excludedMutations: ["StringLiteral"] },
      ignorePatterns: ["/out", "/docs", "/dist", "/.git", "/data-demo/*/**", "/notebooks", "/tests/bench", "/tests/fixtures/reference"],
      checkers: [],
      // Whether types fit is no matter here, and switching their check off reads every file.
      disableTypeChecks: false,
      concurrency: Number(process.env.MUTANTS_CONCURRENCY ?? 2),
      timeoutMS: 20_000,
      tempDirName: join(own, "work"),
      cleanTempDir: "always",
      allowEmpty: false,
      reporters: ["json"],
      jsonReporter: { fileName: report },
      logLevel: "warn",
    }),
  );
  const tests = list[file].map((name) => `tests/${name}`);
  const decisions = decisionsOf(file);
  const { status } = spawnSync(
    process.execPath,
    [join(home, "node_modules/@stryker-mutator/core/bin/stryker.js"), "run", settings],
    {
      cwd: root,
      stdio: ["ignore", "inherit", "inherit"],
      env: { ...process.env, MUTANTS_TESTS: JSON.stringify(tests) },
    },
  );
  if (status !== 0 || !existsSync(report)) {
    console.log(`${file}: not measured`);
    return false;
  }
  return enter(file, decisions, Object.values(JSON.parse(readFileSync(report, "utf8")).files)[0]);
}

function enter(file, decisions, { mutants, source }) {
  // A mutant that a comment switched off has survived; what the settings leave out has not.
  const leftOut = /excluded mutation|[Ss]tatic mutant/;
  const counted = mutants
    .filter(({ status, statusReason }) => status !== "Ignored" || !leftOut.test(statusReason ?? ""))
    .map((each) => (each.status === "Ignored" ? { ...each, status: "Survived" } : each));
  const of = (...names) => counted.filter(({ status }) => names.includes(status));
  const caught = of("Killed", "Timeout").length;
  // What does not compile is no mutant.
  const all = counted.length - of("CompileError", "RuntimeError").length;
  if (all === 0) {
    console.log(`${file}: no decision in it that is made at run time; it belongs on no list`);
    return false;
  }
  const score = Math.round((1000 * caught) / all) / 10;
  const lines = source.split("\n");
  for (const { location, replacement, mutatorName, status } of of("Survived", "NoCoverage")) {
    const { line } = location.start;
    console.log(`  ${file}:${line} ${status} ${mutatorName}: ${lines[line - 1].trim()}`);
    console.log(`      -> ${(replacement ?? "").replace(/\s+/g, " ").slice(0, 120)}`);
  }
  console.log(`${file}: ${caught} of ${all} caught, ${score} %`);
  const scores = existsSync(results) ? JSON.parse(readFileSync(results, "utf8")) : {};
  const on = new Date().toISOString().slice(0, 10);
  scores[file] = { on, caught, of: all, pct: score, decisions };
  const sorted = Object.fromEntries(Object.entries(scores).sort(([a], [b]) => (a < b ? -1 : 1)));
  writeFileSync(results, `${JSON.stringify(sorted, null, 2)}\n`);
  return score >= 85;
}
