import { spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { writeManyFeeds } from "./many-feeds.js";

/**
 * `readStudy` with every check on a generated study (`many-feeds`), by this checkout and
 * by another one (built; its folder is the first argument), each run in a process of its
 * own and in turn: processor time a row, memory a row at its peak (beyond that of a
 * process that has only loaded the program) and kept after a collection. Then
 * `gramline check` of the same study by this checkout alone, whole process: processor
 * time, memory at its peak, and how long it goes on after Ctrl-C. The second
 * argument is the number of feeds, 1,000,000 where none is said.
 *
 *     npm run bench many-rows -- ../as-it-was
 */
const [other, feeds = "1000000"] = process.argv.slice(2);
if (other === undefined) throw new Error("Name the folder of another checkout that was built.");
const root = fileURLToPath(new URL("../..", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "gramline-many-"));
const REPEATS = 3;

const script = `
const { readStudy } = await import(process.argv[1]);
const base = process.resourceUsage().maxRSS;
const before = process.cpuUsage();
const study = await readStudy(process.argv[2]);
const { user, system } = process.cpuUsage(before);
const peak = process.resourceUsage().maxRSS;
const rows = study.counts.reduce((n, c) => n + c.rowsIn, 0);
for (let i = 0; i < 3; i++) { globalThis.gc(); await new Promise((done) => setTimeout(done, 50)); }
const { heapUsed, external } = process.memoryUsage();
console.log(JSON.stringify({
  rows, setAside: study.setAside.length, microsecondsARow: (user + system) / rows,
  peakBytesARow: (1024 * (peak - base)) / rows, keptBytesARow: (heapUsed + external) / rows,
}));`;

interface Run {
  readonly rows: number;
  readonly setAside: number;
  readonly microsecondsARow: number;
  readonly peakBytesARow: number;
  readonly keptBytesARow: number;
}

function run(checkout: string): Run {
  const file = join(resolve(checkout), "dist", "records", "files", "read-study.js");
  const args = ["--expose-gc", "--input-type=module", "-e", script, pathToFileURL(file).href];
  const { stdout, stderr, status } = spawnSync(process.execPath, [...args, folder], {
    encoding: "utf8",
  });
  if (status !== 0) throw new Error(stderr);
  return JSON.parse(stdout) as Run;
}

/** Says at its end what the process took. */
const meter = `data:text/javascript,${encodeURIComponent(
  'process.on("exit",()=>{const u=process.resourceUsage();process.stderr.write("\\nmeter "+JSON.stringify({seconds:(u.userCPUTime+u.systemCPUTime)/1e6,peakMB:u.maxRSS/1024})+"\\n")})',
)}`;

interface Check {
  readonly seconds: number;
  readonly peakMB: number;
}

function check(): Check {
  const main = join(root, "dist", "command-line", "main.js");
  const args = ["--import", meter, main, "check", folder, "--no-write"];
  const { stderr } = spawnSync(process.execPath, args, { encoding: "utf8" });
  const told = /meter (.*)/.exec(stderr)?.[1];
  if (told === undefined) throw new Error(stderr);
  return JSON.parse(told) as Check;
}

/** How long `gramline check` goes on after Ctrl-C, pressed at three moments of its reading, ms; the longest. */
async function cancelMs(): Promise<number> {
  let longest = 0;
  for (const after of [1000, 2500, 4000]) {
    const main = join(root, "dist", "command-line", "main.js");
    const running = spawn(process.execPath, [main, "check", folder, "--no-write"], {
      stdio: "ignore",
    });
    await new Promise((done) => setTimeout(done, after));
    const pressed = performance.now();
    running.kill("SIGINT");
    const [, signal] = await once(running, "exit");
    if (signal !== "SIGINT") throw new Error("the check had ended before it was cancelled");
    longest = Math.max(longest, performance.now() - pressed);
  }
  return Math.round(longest);
}

const middle = (values: readonly number[]) =>
  [...values].sort((a, b) => a - b)[values.length >> 1]!;
const round = (x: number) => Math.round(1000 * x) / 1000;

try {
  await writeManyFeeds(folder, Number(feeds));
  const ours: Run[] = [];
  const theirs: Run[] = [];
  for (let i = 0; i < REPEATS; i++) {
    const first = i % 2 === 0;
    if (first) ours.push(run(root));
    theirs.push(run(other));
    if (!first) ours.push(run(root));
  }
  if (ours[0]!.rows !== theirs[0]!.rows || ours[0]!.setAside !== theirs[0]!.setAside)
    throw new Error("the two do not read the same rows");
  const checks = Array.from({ length: REPEATS }, check);
  const of = (key: keyof Run) => {
    const [mine, yours] = [ours, theirs].map((runs) => middle(runs.map((r) => r[key])));
    return { ours: round(mine!), theirs: round(yours!), ratio: round(mine! / yours!) };
  };
  const result = {
    date: new Date().toISOString().slice(0, 10),
    machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} processors, shared with other work`,
    node: process.version,
    against: "853cc0e",
    generatorSeed: 808,
    rows: ours[0]!.rows,
    setAside: ours[0]!.setAside,
    repeats: REPEATS,
    microsecondsARow: of("microsecondsARow"),
    peakBytesARow: of("peakBytesARow"),
    keptBytesARow: of("keptBytesARow"),
    check: {
      processorSeconds: round(middle(checks.map((c) => c.seconds))),
      peakMB: Math.round(middle(checks.map((c) => c.peakMB))),
      cancelMs: await cancelMs(),
    },
  };
  console.log(JSON.stringify(result, null, 2));
  const name = fileURLToPath(new URL("results/many-rows.json", import.meta.url));
  writeFileSync(name, `${JSON.stringify(result, null, 2)}\n`);
} finally {
  rmSync(folder, { recursive: true });
}
