import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { loadavg, tmpdir } from "node:os";
import { join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { record } from "./curves-record.js";

/**
 * From records to a page, as a person waits for it: seconds on the clock of whole commands
 * on the fixture demo, by this checkout and by another one (built; its folder is the
 * argument), in turn. Cold: an empty cache and a new folder to write to. Warm, ours alone: the
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

/** Seconds that a command takes; its output goes to a folder of its own. */
function seconds(at: string, words: readonly string[], env: Record<string, string> = {}): number {
  const out = join(work, `out-${++made}`);
  const began = performance.now();
  const command = [join(resolve(at), "dist", "command-line", "main.js"), ...words, "--out", out];
  const done = spawnSync(process.execPath, command, {
    cwd: resolve(at),
    env: { ...process.env, GRAMLINE_CACHE: "off", ...env },
    encoding: "utf8",
  });
  const took = (performance.now() - began) / 1000;
  if (done.status !== 0) throw new Error(`${words.join(" ")}: ${done.stderr}${done.stdout}`);
  return Math.round(took * 100) / 100;
}

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
  const row = { job, before, cold, ratio: Math.round((100 * before) / cold) / 100, warm };
  console.log(JSON.stringify(row));
  return row;
});

/** The day's page and the hand-over of records that were seen before. */
const seen = (["day", "hand-over"] as const).map((job) => {
  const at = (env: Record<string, string>) => {
    const out = join(work, `${job}-${++made}.html`);
    const began = performance.now();
    const main = join(root, "dist", "command-line", "main.js");
    const done = spawnSync(process.execPath, [main, job, demo, "--out", out], {
      env: { ...process.env, ...env },
      encoding: "utf8",
    });
    if (done.status !== 0) throw new Error(`${job}: ${done.stderr}`);
    return (performance.now() - began) / 1000;
  };
  const cold = at({ GRAMLINE_CACHE: "off" });
  at({ GRAMLINE_CACHE: cache });
  const warm = [1, 2, 3].map(() => at({ GRAMLINE_CACHE: cache })).sort((a, b) => a - b)[1]!;
  const row = { job, cold: Math.round(cold * 100) / 100, warm: Math.round(warm * 100) / 100 };
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
  const row = { notebook: name, cold, empty, above: Math.round((cold - empty) * 100) / 100 };
  console.log(JSON.stringify(row));
  return row;
});

const load = loadavg().map((l) => Math.round(100 * l) / 100);
record("from-records-to-page", { load, unit: "seconds on the clock" }, [
  ...rows,
  ...seen,
  ...notebooks,
]);
rmSync(work, { recursive: true });
