import { mkdtempSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { describe, expect, it } from "vitest";
import { openWorkers, runJobs } from "../../src/core/parallel.js";

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

  it("cancelled, stop with the reason of whoever cancelled", async () => {
    const stop = new AbortController();
    const running = runJobs(module, "double", jobs, {
      threads: 2,
      signal: stop.signal,
      onProgress: () => stop.abort(new RangeError("enough")),
    });
    await expect(running).rejects.toThrow("enough");
  });

  it("are taken one by one where not all are known at once; one that fails stops no other", async () => {
    const workers = await openWorkers<number, number>(module, "fail", 2);
    const asked = [1, 3, 5].map((job) => workers.run(job));
    await expect(asked[1]).rejects.toThrow("three");
    expect(await Promise.all([asked[0], asked[2]])).toEqual([1, 5]);
    expect(await workers.run(7)).toBe(7);
    await workers.close();
  });

  it("of a module that is not there fail, also those asked for later", async () => {
    const workers = await openWorkers<number, number>(new URL("none.mjs", module), "double", 1);
    await expect(workers.run(1)).rejects.toThrow("none.mjs");
    await expect(workers.run(2)).rejects.toThrow("none.mjs");
    await workers.close();
  });

  it("with nothing to do gives nothing", async () => {
    expect(await runJobs(module, "double", [], { threads: 2 })).toEqual([]);
  });
});
