import { parentPort, workerData } from "node:worker_threads";
import type { SizeLimits } from "../../core/size-limits.js";
import { UsageError } from "../../core/usage-error.js";
import { openWorkbook } from "../open-workbook.js";

/** Runs in a worker of its own: opens one workbook and posts its sheets, or what was wrong. */
const { path, bytes, limits } = workerData as {
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly limits: SizeLimits;
};
try {
  parentPort?.postMessage({ sheets: openWorkbook(path, bytes, limits) });
} catch (error) {
  if (!(error instanceof UsageError)) throw error;
  const { needed, came, where, todo } = error;
  parentPort?.postMessage({ refused: { needed, came, where, todo } });
}
