import { rmSync } from "node:fs";
import { open, readdir, rename, rm, stat } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { partEnding, partState } from "./part-names.js";
import { whenInterrupted } from "./when-interrupted.js";

/**
 * Writes a file so that at every moment either the old or the new content is
 * there, whole: into a file beside it, flushed to disk, then moved over. The
 * rights of a file that was there before are kept. A process killed in between
 * leaves the old file and a `.name.*.part` beside it, which is never read and
 * goes at the next write into that folder.
 *
 * @param content text is written as UTF-8.
 * @throws the system's error (folder missing, disk full, no right); the old file then stands.
 * @example await writeAtomically("out/tables.csv", "animal_id,mass_g\n")
 */
export async function writeAtomically(path: string, content: string | Uint8Array): Promise<void> {
  await removeDeadParts(dirname(path));
  const part = join(
    dirname(path),
    // A long name and the ending together may be more than a file system takes.
    `.${basename(path).slice(0, 60)}${partEnding()}`,
  );
  const before = await stat(path).catch(() => null);
  const done = whenInterrupted(() => rmSync(part, { force: true }));
  try {
    const file = await open(part, "wx");
    try {
      if (before !== null) await file.chmod(before.mode & 0o777);
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(part, path);
  } catch (error) {
    await rm(part, { force: true });
    throw error;
  } finally {
    done();
  }
  // The move itself reaches the disk only with its folder; not every system can do that.
  const folder = await open(dirname(path), "r").catch(() => null);
  await folder?.sync().catch(() => undefined);
  await folder?.close();
}

/** Folders looked through already: a process leaves no part of its own behind. */
const looked = new Set<string>();

/** Removes what processes that are no more left half written. */
async function removeDeadParts(folder: string): Promise<void> {
  if (looked.has(folder)) return;
  looked.add(folder);
  for (const name of await readdir(folder).catch(() => [] as string[])) {
    if (name.startsWith(".") && partState(name) === "left") {
      await rm(join(folder, name), { force: true }).catch(() => undefined);
    }
  }
}
