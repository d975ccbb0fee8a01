import { realpathSync } from "node:fs";
import { isAbsolute, relative, resolve, sep } from "node:path";
import { shortened } from "../../core/shortened.js";
import { sizeLimits } from "../../core/size-limits.js";
import { UsageError } from "../../core/usage-error.js";

/**
 * The full path of a file named in a study, which must lie in the study's
 * folder, links followed: no `..`, no absolute path, no link that leads out.
 *
 * @throws UsageError when it leads out of the folder.
 * @example pathWithin("/records/2025", "weighings.csv") // "/records/2025/weighings.csv"
 */
export function pathWithin(folder: string, name: string): string {
  const root = real(resolve(folder));
  const wanted = resolve(root, name);
  const inside = (path: string) => path !== root && leadsInto(root, path);
  if (name.includes("\0") || isAbsolute(name) || /^[a-zA-Z]:/.test(name)) throw outside(name);
  if (!inside(wanted) || !inside(real(wanted))) throw outside(name);
  return wanted;
}

/** Whether a full path is a folder's or lies in it. @example leadsInto("/records", "/records/2025") // true */
export function leadsInto(folder: string, path: string): boolean {
  const way = relative(folder, path);
  return way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}

/** Where a path really leads; as it is where nothing is there. */
function real(path: string): string {
  try {
    return realpathSync(path);
  } catch {
    return path;
  }
}

function outside(name: string): UsageError {
  return new UsageError({
    needed: "the name of a file inside the study's folder",
    came: `${JSON.stringify(shortened(name, sizeLimits.repeatedLetters))} leads out of it`,
    where: "study.json",
    todo: "Copy the file into the folder and name it without a path.",
  });
}
