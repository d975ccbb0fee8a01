import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { runJobs } from "../../src/core/parallel.js";

const folder = mkdtempSync(join(tmpdir(), "jobs-"));
const file = join(folder, "work.mjs");
writeFileSync(
  file,
  `export const double = (x) => 2 * x;
   export const fail = (x) => { if (x === 3) throw new RangeError("three"); return x; };`,
);
const module = pathToFileURL(file);
const jobs = Array.from({ length: 20 }, (_, i) => i);

describe("jobs in worker threads", () => {
  it.each([0, 1, 3])("with %s threads: results in the order of the jobs", async (threads) => {
    const seen: number[] = [];
    const results = await runJobs<number, number>(module, "double", jobs, {
      threads,
      onProgress: ({ done }) => seen.push(done),
    });
    expect(results).toEqual(jobs.map((each) => 2 * each));
    expect(seen).toEqual(jobs.map((each) => each + 1));
  });

  it.each([0, 2])("with %s threads: a job's own error comes out", async (threads) => {
    await expect(runJobs(module, "fail", jobs, { threads })).rejects.toThrow("three");
  });

  it("with nothing to do gives nothing", async () => {
    expect(await runJobs(module, "double", [], { threads: 2 })).toEqual([]);
  });
});
