/**
 * What a kernel loads first: a thread that looks twice a second whether the process
 * that started it is still its parent, also while a cell keeps the kernel busy.
 * However the parent ended, the folder with the key goes, then the kernel. A data
 * address, since the kernel loads it before anything of ours is found.
 *
 * @param folder the kernel's own folder, removed with it.
 * @example spawn(node, [...endsWithParent("/tmp/x"), "kernel.js"])
 */
export function endsWithParent(folder: string): string[] {
  const watch = `
const { rmSync } = require("node:fs");
const parent = ${process.pid};
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
rmSync(${JSON.stringify(folder)}, { recursive: true, force: true });
process.kill(process.pid, "SIGKILL");
`;
  const start = `import { Worker } from "node:worker_threads"; new Worker(${JSON.stringify(watch)}, { eval: true }).unref();`;
  return ["--import", `data:text/javascript,${encodeURIComponent(start)}`];
}
