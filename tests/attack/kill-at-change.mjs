/**
 * Loaded before a command by `run-killed`: counts what the command changes on disk, and
 * ends it by a signal before a change, behind it, or in its midst. A text is then cut, of
 * a folder that is being taken away a part is gone.
 *
 * KILLED_AT is the change and its share (3.5: in the midst of the fourth), KILLED_BY the
 * signal (SIGKILL). Without them the number of changes is written into the file
 * KILLED_COUNT when the process ends.
 */
import fs from "node:fs";
import { syncBuiltinESMExports } from "node:module";
import { join } from "node:path";

const moment = Number(process.env["KILLED_AT"] ?? Number.POSITIVE_INFINITY);
const countFile = process.env["KILLED_COUNT"];
const { writeFileSync, writeSync, rmSync, readdirSync, openSync } = fs;
let changes = 0;

const signal = process.env["KILLED_BY"] ?? "SIGKILL";

function end() {
  process.kill(process.pid, signal);
  if (signal !== "SIGKILL") return;
  // The signal takes a moment; nothing more happens in it.
  Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10_000);
}

/** Half of what a change does, for those that are not done at one stroke. */
const parts = {
  rm(share, path) {
    let names = [];
    try {
      names = readdirSync(path);
    } catch {
      return;
    }
    for (const name of names.slice(0, Math.ceil(names.length * share)))
      rmSync(join(String(path), name), { recursive: true, force: true });
  },
  writeFile(share, target, content) {
    const bytes = Buffer.from(content);
    const descriptor =
      typeof target === "object" && "fd" in target ? target.fd : openSync(target, "w");
    writeSync(descriptor, bytes.subarray(0, Math.floor(bytes.length * share)));
  },
};

/** A change that is counted, and at which the process may end. */
function counted(change, part) {
  return function (...args) {
    const share = moment - changes++;
    if (share >= 0 && share < 1 / 4) end();
    // Whoever can hear the signal goes on with the change it came upon.
    if (share >= 1 / 4 && share < 3 / 4 && signal !== "SIGKILL") end();
    else if (share >= 1 / 4 && share < 3 / 4) {
      part?.(share, ...(this !== undefined && "fd" in this ? [this] : []), ...args);
      end();
    }
    const done = change.apply(this, args);
    if (share < 3 / 4 || share >= 1) return done;
    // Behind it, or a little later: others than Node may be writing then.
    const soon = () => setTimeout(end, 100 * Math.max(0, share - 7 / 8));
    if (!(done instanceof Promise)) soon();
    return done instanceof Promise ? done.finally(soon) : done;
  };
}

const onFiles = ["writeFile", "appendFile", "copyFile", "truncate", "chmod", "rename", "unlink"];
for (const name of [...onFiles, "link", "symlink", "mkdir", "mkdtemp", "rmdir", "rm"]) {
  fs.promises[name] = counted(fs.promises[name], parts[name]);
  fs[`${name}Sync`] = counted(fs[`${name}Sync`], parts[name]);
}
const isForWriting = (flags) => typeof flags === "string" && /[wax+]/.test(flags);
const { open } = fs.promises;
const openCounted = counted(open);
fs.promises.open = (path, flags, ...more) =>
  (isForWriting(flags) ? openCounted : open)(path, flags, ...more);
const handle = await open(process.execPath, "r");
const prototype = Object.getPrototypeOf(handle);
await handle.close();
prototype.writeFile = counted(prototype.writeFile, parts.writeFile);
prototype.write = counted(prototype.write);
prototype.chmod = counted(prototype.chmod);
syncBuiltinESMExports();

if (countFile !== undefined) process.on("exit", () => writeFileSync(countFile, String(changes)));
