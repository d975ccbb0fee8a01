import { readdir } from "node:fs/promises";
import { basename, dirname, join } from "node:path";
import { closestName } from "../closest-name.js";

/**
 * The folder that a slip of the pen may have meant: one beside it, or the first part of the
 * path that is not there replaced; null where none is near.
 *
 * @example await nearestFolder("../my-nursry") // "../my-nursery"
 */
export async function nearestFolder(written: string): Promise<string | null> {
  const parent = dirname(written);
  const listed = await foldersIn(parent);
  if (listed !== null) {
    const near = closestName(basename(written), new Set(listed));
    return near === null ? null : join(parent, near);
  }
  if (parent === written) return null;
  const above = await nearestFolder(parent);
  if (above === null) return null;
  const meant = join(above, basename(written));
  return (await foldersIn(above))?.includes(basename(written)) ? meant : null;
}

/** Names of the folders in a folder, hidden ones left out; null where it is not there. */
async function foldersIn(folder: string): Promise<string[] | null> {
  const all = await readdir(folder, { withFileTypes: true }).catch(() => null);
  return all?.filter((e) => !e.isFile() && !e.name.startsWith(".")).map((e) => e.name) ?? null;
}
