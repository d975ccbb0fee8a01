import { type LongWork, stopIfCancelled } from "./long-work.js";
import { sourceLoader } from "./source-loader.js";

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
  const workers = await openWorkers<Job, Outcome>(module, exported, Math.min(threads, jobs.length));
  let stop = () => {};
  const cancelled = new Promise<never>((_, reject) => {
    stop = () => reject(signal?.reason ?? new DOMException("Cancelled", "AbortError"));
    signal?.addEventListener("abort", stop, { once: true });
  });
  const all = jobs.map(async (job, index) => {
    results[index] = await workers.run(job);
    report();
  });
  try {
    await Promise.race([Promise.all(all), cancelled]);
  } finally {
    signal?.removeEventListener("abort", stop);
    await workers.close();
  }
  return results;
}

/** Threads that wait for jobs. */
export interface Workers<Job, Outcome> {
  /** The outcome of one job, which the next free thread takes; jobs are begun in the order given. */
  run(job: Job): Promise<Outcome>;
  /** Ends the threads; jobs not done by then are never answered. */
  close(): Promise<void>;
}

/**
 * Starts worker threads that hold one exported function ready, for whoever does
 * not know all jobs at once. Close them, also after an error.
 *
 * @example
 * const workers = await openWorkers(new URL("./double.js", import.meta.url), "double", 2)
 * await workers.run(3) // 6
 */
export async function openWorkers<Job, Outcome>(
  module: URL,
  exported: string,
  threads: number,
): Promise<Workers<Job, Outcome>> {
  // Loaded only here, so that nothing pays for threads it does not use.
  const { Worker } = await import("node:worker_threads");
  // In development the module is a .ts file, which a fresh thread can only read
  // with the help of the loader.
  const loader = module.pathname.endsWith(".ts") ? await sourceLoader() : null;
  const waiting: Asked<Job, Outcome>[] = [];
  const workerData = { module: module.href, exported, loader };
  let broken: Error | null = null;
  const all = Array.from({ length: threads }, () => {
    const worker = new Worker(workerSource, { eval: true, workerData });
    let at: Asked<Job, Outcome> | null = null;
    const take = () => {
      if (at !== null) return;
      at = waiting.shift() ?? null;
      if (at !== null) worker.postMessage(at.job);
    };
    worker.on("message", ({ result, error, name }: Message<Outcome>) => {
      const asked = at!;
      at = null;
      if (error === undefined) asked.resolve(result!);
      else asked.reject(Object.assign(new Error(error), { name: name ?? "Error" }));
      take();
    });
    worker.on("error", (error) => {
      broken = error;
      for (const each of [at, ...waiting.splice(0)]) each?.reject(error);
    });
    return { worker, take };
  });
  return {
    run: (job) =>
      new Promise((resolve, reject) => {
        if (broken !== null) return reject(broken);
        waiting.push({ job, resolve, reject });
        for (const { take } of all) take();
      }),
    close: async () => {
      await Promise.all(all.map(({ worker }) => worker.terminate()));
    },
  };
}

interface Asked<Job, Outcome> {
  readonly job: Job;
  readonly resolve: (outcome: Outcome) => void;
  readonly reject: (error: Error) => void;
}

interface Message<Outcome> {
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
parentPort.on("message", async (job) => {
  try {
    const run = (await loaded)[workerData.exported];
    parentPort.postMessage({ result: await run(job) });
  } catch (error) {
    parentPort.postMessage({ error: String(error && error.message || error), name: error && error.name });
  }
});
`;
