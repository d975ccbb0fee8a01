import { randomBytes } from "node:crypto";
import { open, rename, rm } from "node:fs/promises";
import { basename, dirname, join } from "node:path";

/**
 * Writes a file so that at every moment either the old or the new content is
 * there, whole: into a file beside it, flushed to disk, then moved over. A
 * process killed in between leaves the old file (and at most a `.name.*.part`
 * beside it, which is never read).
 */
export async function writeAtomically(path: string, content: string | Uint8Array): Promise<void> {
  const part = join(
    dirname(path),
    `.${basename(path)}.${process.pid}-${randomBytes(4).toString("hex")}.part`,
  );
  try {
    const file = await open(part, "wx");
    try {
      await file.writeFile(content);
      await file.sync();
    } finally {
      await file.close();
    }
    await rename(part, path);
  } catch (error) {
    await rm(part, { force: true });
    throw error;
  }
  // The move itself reaches the disk only with its folder; not every system can do that.
  const folder = await open(dirname(path), "r").catch(() => null);
  await folder?.sync().catch(() => undefined);
  await folder?.close();
}
