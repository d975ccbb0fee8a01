import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { record } from "./curves-record.js";

/**
 * From records to a page, as a person waits for it: seconds on the clock of whole commands
 * on the fixture demo, by this checkout and by another one (built; its folder is the
 * argument), in turn. Beside them the processor time, of kernels and threads too, which other
 * work on the machine changes less. Cold: an empty cache and a new folder to write to. Warm, ours alone: the
 * same command again, with the cache that the first filled. Each notebook alone, without any
 * cache, beside an empty notebook of as many cells.
 *
 *     npm run bench from-records-to-page -- ../as-it-was
 */
const other = process.argv[2];
if (other === undefined) throw new Error("Name the folder of another checkout that was built.");
const root = fileURLToPath(new URL("../..", import.meta.url));
const demo = join(root, "tests", "fixtures", "demo-853cc0e");
const work = mkdtempSync(join(tmpdir(), "gramline-from-records-"));
const cache = join(work, "cache");
const seven = [
  "explain-cohort-curves",
  "explain-growth-curves",
  "feeding-plan",
  "husbandry-report",
  "season-comparison",
  "slow-gainer",
  "start-here",
];
let made = 0;

interface Took {
  /** Seconds on the clock. */
  readonly clock: number;
  /** Seconds of processor time, of the command and of all that it started. */
  readonly processor: number;
}

/** What a command of a checkout takes; where it writes is among its words. */
function taken(at: string, words: readonly string[], env: Record<string, string> = {}): Took {
  const command = [
    process.execPath,
    join(resolve(at), "dist", "command-line", "main.js"),
    ...words,
  ];
  const began = performance.now();
  // Only a shell tells the processor time of what it started and of what that started in turn.
  const done = spawnSync("sh", ["-c", '"$@" >&2; ended=$?; times; exit $ended', "sh", ...command], {
    cwd: resolve(at),
    env: { ...process.env, GRAMLINE_CACHE: "off", ...env },
    encoding: "utf8",
  });
  const clock = (performance.now() - began) / 1000;
  if (done.status !== 0) throw new Error(`${words.join(" ")}: ${done.stderr}${done.stdout}`);
  const children = [...(done.stdout.trim().split("\n").at(-1) ?? "").matchAll(/(\d+)m([\d.]+)s/g)];
  const processor = children.reduce((sum, [, m, s]) => sum + 60 * Number(m) + Number(s), 0);
  return { clock: hundredths(clock), processor: hundredths(processor) };
}

const hundredths = (x: number) => Math.round(100 * x) / 100;

/** The same into a folder of its own. */
const seconds = (at: string, words: readonly string[], env: Record<string, string> = {}) =>
  taken(at, [...words, "--out", join(work, `out-${++made}`)], env);

const jobs = {
  "seven notebooks": {
    ours: ["run-notebooks", ...seven, "--study", demo],
    theirs: ["run-notebooks", ...seven],
  },
  report: {
    ours: ["report", demo, "--date", "2026-01-01"],
    theirs: ["report", demo, "--date", "2026-01-01"],
  },
} as const;

const rows = Object.entries(jobs).map(([job, { ours, theirs }]) => {
  const before = seconds(other, theirs);
  const kept = { GRAMLINE_CACHE: join(cache, job) };
  const cold = seconds(root, ours, kept);
  const warm = seconds(root, ours, kept);
  const row = {
    job,
    before: before.clock,
    cold: cold.clock,
    ratio: hundredths(before.clock / cold.clock),
    warm: warm.clock,
    processor: {
      before: before.processor,
      cold: cold.processor,
      ratio: hundredths(before.processor / cold.processor),
      warm: warm.processor,
    },
  };
  console.log(JSON.stringify(row));
  return row;
});

/** The day's page and the hand-over of records that were seen before. */
const seen = (["day", "hand-over"] as const).map((job) => {
  const at = (env: Record<string, string>) =>
    taken(root, [job, demo, "--out", join(work, `${job}-${++made}.html`)], env).clock;
  const cold = at({ GRAMLINE_CACHE: "off" });
  at({ GRAMLINE_CACHE: cache });
  const warm = [1, 2, 3].map(() => at({ GRAMLINE_CACHE: cache })).sort((a, b) => a - b)[1]!;
  const row = { job, cold, warm };
  console.log(JSON.stringify(row));
  return row;
});

/** A notebook of so many cells that only count. */
function emptyNotebook(like: string): string {
  const folder = join(work, `empty-${like}`);
  mkdirSync(folder);
  const whole = JSON.parse(readFileSync(join(root, "notebooks", `${like}.ipynb`), "utf8")) as {
    cells: { cell_type: string; source: unknown }[];
  };
  const cells = whole.cells
    .filter((cell) => cell.cell_type === "code")
    .map((cell, i) => ({ ...cell, source: [`${i};`], metadata: {} }));
  writeFileSync(join(folder, "empty.ipynb"), JSON.stringify({ ...whole, cells }));
  return folder;
}

const notebooks = seven.map((name) => {
  const empty = seconds(root, [
    "run-notebooks",
    "--study",
    demo,
    "--notebooks",
    emptyNotebook(name),
  ]);
  const cold = seconds(root, ["run-notebooks", name, "--study", demo]);
  const row = {
    notebook: name,
    cold: cold.clock,
    empty: empty.clock,
    above: hundredths(cold.clock - empty.clock),
    processorAbove: hundredths(cold.processor - empty.processor),
  };
  console.log(JSON.stringify(row));
  return row;
});

const load = loadavg().map(hundredths);
record("from-records-to-page", { load, unit: "seconds on the clock, and of processor time" }, [
  ...rows,
  ...seen,
  ...notebooks,
]);
rmSync(work, { recursive: true });
