import { mkdirSync, rmSync } from "node:fs";
import { readFile, rm, stat } from "node:fs/promises";
import { uptime } from "node:os";
import { join, relative } from "node:path";
import { setTimeout } from "node:timers/promises";
import { UsageError } from "../core/usage-error.js";
import { isRunning } from "../records/files/is-running.js";
import { whenInterrupted } from "../records/files/when-interrupted.js";
import { cannotWrite, makeFolder, writeWhole } from "./write-whole.js";

const lockName = ".being-written";
/** Between the making of the lock and the writing of its number lies less than this. */
const numberedWithinMs = 2000;

/**
 * Does work on a folder of outputs alone: of two runs into one folder the second is told
 * so. A lock whose owner is gone is taken over.
 *
 * @param work gets a folder of its own for what is half done; it goes when the work ends,
 *   however it ends.
 * @throws UsageError where another run is writing there, or the folder cannot be written.
 * @example await aloneIn("out/report", () => writeAll())
 */
export async function aloneIn<T>(out: string, work: (scratch: string) => Promise<T>): Promise<T> {
  const lock = join(out, lockName);
  await makeFolder(out);
  let done = () => {};
  for (let tries = 0; ; ) {
    // At one stroke with what takes it away again: a signal finds both or neither.
    const error = makeLock(lock);
    if (error === null) {
      done = whenInterrupted(() => rmSync(lock, { recursive: true, force: true }));
      break;
    }
    if (error.code !== "EEXIST") throw cannotWrite(lock, error);
    const owner = await ownerOf(lock);
    if (owner === unnumbered) {
      await setTimeout(50);
      continue;
    }
    if (owner !== null || ++tries > 3) throw inUse(out, owner);
    await rm(lock, { recursive: true, force: true });
  }
  try {
    await writeWhole(join(lock, "process"), String(process.pid));
    return await work(lock);
  } finally {
    await rm(lock, { recursive: true, force: true }).catch(() => undefined);
    done();
  }
}

/** Makes a folder; the system's fault where it cannot. */
function makeLock(lock: string): NodeJS.ErrnoException | null {
  try {
    mkdirSync(lock);
    return null;
  } catch (fault) {
    return fault as NodeJS.ErrnoException;
  }
}

/** A lock made this moment, by a run that is about to say who it is or was just killed. */
const unnumbered = -1;

/** The number of the run that holds a lock; null where it is gone. */
async function ownerOf(lock: string): Promise<number | null> {
  const made = await stat(lock).catch(() => null);
  // Older than the machine is up: the number is somebody else's by now.
  if (made !== null && made.mtimeMs < Date.now() - uptime() * 1000 - numberedWithinMs) return null;
  const number = Number(await readFile(join(lock, "process"), "utf8").catch(() => "0"));
  if (number > 0) return number !== process.pid && isRunning(number) ? number : ownOwner(number);
  return made !== null && Date.now() - made.mtimeMs < numberedWithinMs ? unnumbered : null;
}

/** Two pieces of work of one process wait for each other no less. */
const ownOwner = (number: number) => (number === process.pid ? number : null);

function inUse(out: string, owner: number | null): UsageError {
  const by = owner === null ? "" : ` (process ${owner})`;
  return new UsageError({
    needed: "a folder that no other run is writing into",
    came: `another run of gramline is writing there now${by}`,
    where: relative(process.cwd(), out) || ".",
    todo: `Wait until it has ended, or name another folder. If no gramline is running, remove the folder ${lockName} there. Nothing was written.`,
  });
}
