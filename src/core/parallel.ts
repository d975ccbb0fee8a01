import { type LongWork, stopIfCancelled } from "./long-work.js";

export interface ParallelWork extends LongWork {
  /** Worker threads to use; 0 or 1 stays on the calling thread. Default 0. */
  readonly threads?: number | undefined;
  /** What is being done, for progress. Default "working". */
  readonly doing?: string | undefined;
}

/**
 * Runs an exported function over a list of jobs, in worker threads when asked,
 * and returns the results in the order of the jobs. The function is named by
 * its module and export because code cannot travel to another thread; jobs and
 * results travel by structured clone. Without threads the jobs run here, with a
 * pause between them so that progress and cancelling get their turn.
 *
 * Throws the signal's reason when cancelled; a job's own error stops the rest.
 *
 * @example
 * await runJobs(new URL("./double.js", import.meta.url), "double", [1, 2, 3], { threads: 2 }) // [2, 4, 6]
 */
export async function runJobs<Job, Outcome>(
  module: URL,
  exported: string,
  jobs: readonly Job[],
  work: ParallelWork = {},
): Promise<Outcome[]> {
  const { threads = 0, signal, onProgress, doing = "working" } = work;
  stopIfCancelled(signal);
  const results = new Array<Outcome>(jobs.length);
  let done = 0;
  const report = () => {
    done++;
    onProgress?.({ done, total: jobs.length, doing });
  };
  if (threads <= 1 || jobs.length <= 1) {
    const loaded = (await import(module.href)) as Record<string, (job: Job) => Outcome>;
    const run = loaded[exported]!;
    for (let i = 0; i < jobs.length; i++) {
      results[i] = run(jobs[i]!);
      report();
      await new Promise((resolve) => setImmediate(resolve));
      stopIfCancelled(signal);
    }
    return results;
  }
  // Loaded only here, so that nothing pays for threads it does not use.
  const { Worker } = await import("node:worker_threads");
  // In development the module is a .ts file, which a fresh thread can only read
  // with the help of the loader.
  const loader = module.pathname.endsWith(".ts") ? "tsx/esm/api" : null;
  const workers = Array.from(
    { length: Math.min(threads, jobs.length) },
    () =>
      new Worker(workerSource, {
        eval: true,
        workerData: { module: module.href, exported, loader },
      }),
  );
  try {
    await new Promise<void>((resolve, reject) => {
      let next = 0;
      const stop = () => reject(signal?.reason ?? new DOMException("Cancelled", "AbortError"));
      signal?.addEventListener("abort", stop, { once: true });
      const finish = () => {
        signal?.removeEventListener("abort", stop);
        resolve();
      };
      for (const worker of workers) {
        const give = () => {
          if (next < jobs.length) {
            const index = next++;
            worker.postMessage({ index, job: jobs[index] });
          }
        };
        worker.on("message", (message: Message<Outcome>) => {
          if (message.error !== undefined) {
            reject(Object.assign(new Error(message.error), { name: message.name ?? "Error" }));
            return;
          }
          results[message.index] = message.result!;
          report();
          if (done === jobs.length) finish();
          else give();
        });
        worker.on("error", reject);
        give();
      }
    });
  } finally {
    await Promise.all(workers.map((worker) => worker.terminate()));
  }
  return results;
}

interface Message<Outcome> {
  readonly index: number;
  readonly result?: Outcome;
  readonly error?: string;
  readonly name?: string;
}

/** The whole of a worker: loads the function once, then answers jobs. */
const workerSource = `
const { parentPort, workerData } = require("node:worker_threads");
const loaded = (async () => {
  if (workerData.loader !== null) (await import(workerData.loader)).register();
  return import(workerData.module);
})();
parentPort.on("message", async ({ index, job }) => {
  try {
    const run = (await loaded)[workerData.exported];
    parentPort.postMessage({ index, result: await run(job) });
  } catch (error) {
    parentPort.postMessage({ index, error: String(error && error.message || error), name: error && error.name });
  }
});
`;
