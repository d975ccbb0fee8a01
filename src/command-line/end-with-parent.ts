/**
 * What a kernel loads first: a thread that looks twice a second whether the process
 * that started it is still its parent, also while a cell keeps the kernel busy.
 * However the parent ended, what holds the key goes, then the kernel. A data
 * address, since the kernel loads it before anything of ours is found.
 *
 * @param holdsKey the kernel's own folder; or nothing, where Jupyter starts the kernel: then it
 *   is the connection file that Jupyter wrote, named in the kernel's line.
 * @example spawn(node, [...endsWithParent("/tmp/x"), "kernel.js"])
 */
export function endsWithParent(holdsKey: string | null): string[] {
  const watch = `
const { rmSync } = require("node:fs");
const { parent, holdsKey } = require("node:worker_threads").workerData;
const there = () => {
  if (process.platform !== "win32") return process.ppid === parent;
  try {
    return process.kill(parent, 0);
  } catch {
    return false;
  }
};
const wait = new Int32Array(new SharedArrayBuffer(4));
while (there()) Atomics.wait(wait, 0, 0, 500);
if (holdsKey) rmSync(holdsKey, { recursive: true, force: true });
process.kill(process.pid, "SIGKILL");
`;
  // Our own parent is known by number: it may be gone before the kernel has begun.
  const data =
    holdsKey === null
      ? `{ parent: process.ppid, holdsKey: process.argv.join("\\n").match(/--config-path=(.*)/)?.[1] }`
      : JSON.stringify({ parent: process.pid, holdsKey });
  const start = `import { Worker } from "node:worker_threads"; new Worker(${JSON.stringify(watch)}, { eval: true, workerData: ${data} }).unref();`;
  return ["--import", `data:text/javascript,${encodeURIComponent(start)}`];
}
