import { Worker, type WorkerOptions } from "node:worker_threads";
import { type SizeLimits, sizeLimits } from "../../core/size-limits.js";
import { sourceLoader } from "../../core/source-loader.js";
import { UsageError } from "../../core/usage-error.js";
import type { SheetGrid } from "../sheet-grid.js";

/**
 * Opens a workbook in a worker with limits of memory and time, so that a
 * hostile or broken file can neither hang nor fill this process.
 *
 * @throws UsageError, naming the file, over a limit or when it cannot be opened.
 */
export async function openWorkbookApart(
  path: string,
  bytes: Uint8Array,
  limits: SizeLimits = sizeLimits,
): Promise<readonly SheetGrid[]> {
  const refused = (needed: string, came: string) =>
    new UsageError({
      needed,
      came,
      where: path,
      todo: "Save the sheet as CSV, or copy the records into a new workbook.",
    });
  if (bytes.length > limits.workbookBytes)
    throw refused(
      `a workbook of at most ${Math.round(limits.workbookBytes / 2 ** 20)} MB`,
      `it has ${Math.round(bytes.length / 2 ** 20)} MB`,
    );
  const worker = await startWorker({
    workerData: { path, bytes, limits },
    // The workbook library remarks on damaged files there; what matters is said by name.
    stdout: true,
    stderr: true,
    resourceLimits: { maxOldGenerationSizeMb: limits.workbookMegabytes },
  });
  try {
    return await new Promise<readonly SheetGrid[]>((resolve, reject) => {
      const clock = setTimeout(
        () =>
          reject(
            refused(
              `a workbook that opens within ${limits.workbookSeconds} s`,
              "it was still being read then",
            ),
          ),
        limits.workbookSeconds * 1000,
      );
      const settle = (done: () => void) => {
        clearTimeout(clock);
        done();
      };
      worker.once("message", (message: Answer) =>
        settle(() => {
          if ("sheets" in message) resolve(message.sheets);
          else reject(new UsageError(message.refused));
        }),
      );
      worker.once("error", (error: NodeJS.ErrnoException) =>
        settle(() =>
          reject(
            error.code === "ERR_WORKER_OUT_OF_MEMORY"
              ? refused(
                  `a workbook that opens within ${limits.workbookMegabytes} MB`,
                  "it needs more",
                )
              : error,
          ),
        ),
      );
      worker.once("exit", (code) =>
        settle(() =>
          reject(refused("a workbook that can be opened", `its reader stopped (${code})`)),
        ),
      );
    });
  } finally {
    await worker.terminate();
  }
}

type Answer =
  | { readonly sheets: readonly SheetGrid[] }
  | { readonly refused: ConstructorParameters<typeof UsageError>[0] };

/** Run from source (tests, benches) the worker must load TypeScript as this file was. */
async function startWorker(options: WorkerOptions): Promise<Worker> {
  if (!import.meta.url.endsWith(".ts"))
    return new Worker(new URL("./workbook-worker.js", import.meta.url), options);
  const entry = JSON.stringify(new URL("./workbook-worker.ts", import.meta.url).href);
  const code = `import(${JSON.stringify(await sourceLoader())}).then(({ tsImport }) => tsImport(${entry}, ${entry}))`;
  return new Worker(code, { ...options, eval: true });
}
