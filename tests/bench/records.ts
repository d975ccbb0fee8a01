import { spawnSync } from "node:child_process";
import { existsSync, mkdirSync, statSync, writeFileSync } from "node:fs";
import { cpus, tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { writeRecordsFile } from "./records-file.js";

/**
 * Reading, checking and adding up 5,000,000 rows by animal and day, beside
 * data.table (two threads) and pandas on the same file in the same run; and
 * whether the cost is linear up to 20,000,000 rows (`--linear`). Each run is a
 * process of its own; starting it is not counted; the runs take turns.
 */
const here = dirname(fileURLToPath(import.meta.url));
const folder = join(tmpdir(), "gramline-bench");
mkdirSync(folder, { recursive: true });
const reps = 3;

interface Run {
  readonly seconds: number;
  readonly cpuSeconds: number;
  readonly peakMB: number;
  readonly check: Readonly<Record<string, number>>;
}

async function fileOf(rows: number): Promise<string> {
  const path = join(folder, `records-${rows}.csv`);
  if (!existsSync(path)) await writeRecordsFile(path, rows);
  return path;
}

function ours(path: string): Run {
  const tsx = fileURLToPath(import.meta.resolve("tsx"));
  const run = spawnSync(process.execPath, ["--import", tsx, join(here, "records-total.ts"), path], {
    encoding: "utf8",
  });
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout) as Run;
}

const rCode = (path: string) => `
suppressMessages(library(data.table)); setDTthreads(2)
t <- system.time({ d <- fread(${JSON.stringify(path)}, showProgress = FALSE, colClasses = list(character = "time"))
d[, day := substr(time, 1, 10)]
a <- d[kind == "feed", .(g = sum(grams)), by = .(animal, day)]
b <- d[kind == "weight", .(g = mean(grams)), by = .(animal, day)] })
peak <- as.numeric(gsub("[^0-9]", "", grep("VmHWM", readLines("/proc/self/status"), value = TRUE))) / 1024
cat(sprintf('{"seconds":%.4f,"cpuSeconds":%.4f,"peakMB":%.1f,"check":{"nfeed":%d,"nweight":%d,"sumfeed":%.4f,"meanw":%.8f}}', t[["elapsed"]], t[["user.self"]] + t[["sys.self"]], peak, nrow(a), nrow(b), sum(a$g), mean(b$g)))
`;

const pythonCode = (path: string) => `
import json, resource, time
import pandas as pd
t = time.perf_counter(); c = time.process_time()
d = pd.read_csv(${JSON.stringify(path)}, dtype={"animal": "int32", "kind": "category", "grams": "float64", "time": "string"})
d["day"] = d["time"].str.slice(0, 10).astype("category")
a = d[d.kind == "feed"].groupby(["animal", "day"], observed=True)["grams"].sum()
b = d[d.kind == "weight"].groupby(["animal", "day"], observed=True)["grams"].mean()
print(json.dumps({"seconds": time.perf_counter() - t, "cpuSeconds": time.process_time() - c, "peakMB": resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024, "check": {"nfeed": len(a), "nweight": len(b), "sumfeed": float(a.sum()), "meanw": float(b.mean())}}))
`;

function peer(command: string, args: readonly string[]): Run | null {
  const run = spawnSync(command, args, { encoding: "utf8" });
  return run.status === 0 ? (JSON.parse(run.stdout) as Run) : null;
}

const median = (values: readonly number[]) =>
  values.slice().sort((a, b) => a - b)[values.length >> 1]!;
const summary = (runs: readonly Run[]) => ({
  medianSeconds: median(runs.map((r) => r.seconds)),
  medianCpuSeconds: median(runs.map((r) => r.cpuSeconds)),
  peakMB: Math.max(...runs.map((r) => r.peakMB)),
  runs: runs.map((r) => r.seconds),
});

const path = await fileOf(5_000_000);
console.log(`5,000,000 rows, ${Math.round(statSync(path).size / 1e6)} MB`);
const all: Record<string, Run[]> = { gramline: [], "data.table, 2 threads": [], pandas: [] };
for (let rep = 0; rep < reps; rep++) {
  all["gramline"]!.push(ours(path));
  const r = peer("/usr/bin/Rscript", ["-e", rCode(path)]);
  if (r !== null) all["data.table, 2 threads"]!.push(r);
  const p = peer("/usr/bin/python3", ["-c", pythonCode(path)]);
  if (p !== null) all["pandas"]!.push(p);
}
const truth = all["gramline"]![0]!.check;
const results: Record<string, unknown> = {};
for (const [name, runs] of Object.entries(all)) {
  if (runs.length === 0) {
    console.log(`${name}: peer absent, not compared`);
    continue;
  }
  const s = summary(runs);
  results[name] = s;
  for (const run of runs)
    for (const [key, value] of Object.entries(run.check))
      if (Math.abs(value / truth[key]! - 1) > 1e-9) throw new Error(`${name}: ${key} differs`);
  console.log(
    `${name}: median ${s.medianSeconds.toFixed(2)} s (processor ${s.medianCpuSeconds.toFixed(2)} s), peak ${Math.round(s.peakMB)} MB`,
  );
}

const linear: { rows: number; seconds: number; cpuSeconds: number; peakMB: number }[] = [];
if (process.argv.includes("--linear")) {
  for (const rows of [1_250_000, 5_000_000, 20_000_000]) {
    const run = ours(await fileOf(rows));
    linear.push({ rows, seconds: run.seconds, cpuSeconds: run.cpuSeconds, peakMB: run.peakMB });
    console.log(
      `${rows} rows: ${run.seconds.toFixed(2)} s, processor ${run.cpuSeconds.toFixed(2)} s (${((1e6 * run.cpuSeconds) / rows).toFixed(2)} s per million), peak ${Math.round(run.peakMB)} MB`,
    );
  }
}
mkdirSync(join(here, "results"), { recursive: true });
writeFileSync(
  join(here, "results", "records.json"),
  `${JSON.stringify(
    {
      date: new Date().toISOString().slice(0, 10),
      machine: `${cpus()[0]?.model ?? "unknown"}, ${cpus().length} processors, shared with other work`,
      node: process.version,
      rows: 5_000_000,
      generatorSeed: 808,
      results,
      linear,
    },
    null,
    2,
  )}\n`,
);
