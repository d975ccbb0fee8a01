import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { seededRandom } from "../../src/core/random.js";
import { tryText, tryWorkbook } from "../records/mutate.js";

/**
 * 95,000 spoilt text files and 5,000 spoilt workbooks, one after the other in
 * one process: no crash, no hang, no lost row, memory bounded. Seeds 20250322
 * and 20250323. `--share 0.1` does a tenth of each, `--only texts` one half.
 */
const at = process.argv.indexOf("--share");
const share = at < 0 ? 1 : Number(process.argv[at + 1]);

function many(name: string, count: number, seed: number, once: typeof tryText) {
  const random = seededRandom(seed);
  let refused = 0;
  let setAside = 0;
  let rowsIn = 0;
  let worstMs = 0;
  const faults: string[] = [];
  const from = performance.now();
  for (let i = 0; i < count; i++) {
    const begun = performance.now();
    try {
      const study = once(random.split(i));
      if (study === "refused") refused++;
      else {
        setAside += study.setAside.length;
        rowsIn += study.counts.reduce((n, c) => n + c.rowsIn, 0);
      }
    } catch (error) {
      faults.push(`${i}: ${(error as Error).message}`);
    }
    worstMs = Math.max(worstMs, performance.now() - begun);
  }
  const result = {
    files: count,
    seed,
    refused,
    rowsIn,
    setAside,
    faults: faults.length,
    worstMs: Math.round(worstMs),
    seconds: Math.round((performance.now() - from) / 1000),
    peakMB: Math.round(process.resourceUsage().maxRSS / 1024),
  };
  console.log(name, JSON.stringify(result));
  for (const fault of faults.slice(0, 10)) console.log("  fault", fault);
  return result;
}

const only = process.argv.includes("--only")
  ? process.argv[process.argv.indexOf("--only") + 1]
  : null;
const path = join(dirname(fileURLToPath(import.meta.url)), "results", "records-spoilt.json");
const results: Record<string, ReturnType<typeof many>> = {};
if (only !== "workbooks")
  results["texts"] = many("texts", Math.round(95_000 * share), 20250322, tryText);
if (only !== "texts")
  results["workbooks"] = many("workbooks", Math.round(5_000 * share), 20250323, tryWorkbook);
if (share === 1) {
  mkdirSync(dirname(path), { recursive: true });
  // One half may be run alone; what is known of the other stays.
  const before = existsSync(path)
    ? (JSON.parse(readFileSync(path, "utf8")) as { results: object }).results
    : {};
  const date = new Date().toISOString().slice(0, 10);
  const all = { date, machine: cpus()[0]?.model, node: process.version };
  writeFileSync(
    path,
    `${JSON.stringify({ ...all, results: { ...before, ...results } }, null, 2)}\n`,
  );
}
if (Object.values(results).some((r) => r.faults > 0)) process.exitCode = 1;
