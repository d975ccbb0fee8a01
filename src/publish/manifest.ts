import { access, readFile } from "node:fs/promises";
import { dirname, join, resolve, sep } from "node:path";
import { writeWhole } from "./write-whole.js";

/** What gramline has written into a folder. */
export interface Manifest {
  /** Files by the set that they are of, relative to the folder. */
  readonly sets: Readonly<Record<string, readonly string[]>>;
  /** Folders that hold a set whole, the newest last. */
  readonly generations: Readonly<Record<string, readonly string[]>>;
}

/** Files that the next reading of a study would take for records of it. */
export const likeRecords = /^[^/\\]+\.(csv|tsv|tab|json|xlsx|xlsm|xls|ods)$/i;

/** The list of what was written, beside it: a file that it does not name is somebody else's. */
export const manifestName = ".written-by-gramline.json";

/** The list of a folder; an empty one where there is none, or none that can be read. */
export async function readManifest(out: string): Promise<Manifest> {
  const text = await readFile(join(out, manifestName), "utf8").catch(() => "{}");
  try {
    const { sets, generations } = JSON.parse(text) as Readonly<Record<string, unknown>>;
    // Tables among a study's records are its own, whatever a list says of them.
    const isStudy = await access(join(out, "study.json")).then(
      () => true,
      () => false,
    );
    const isOurs = (name: unknown): name is string =>
      isInside(name) && !(isStudy && likeRecords.test(name));
    return { sets: namesIn(sets, isOurs), generations: namesIn(generations, isGeneration) };
  } catch {
    // A list that cannot be read vouches for nothing.
    return { sets: {}, generations: {} };
  }
}

export async function writeManifest(out: string, manifest: Manifest): Promise<void> {
  const what = "Files in this folder that gramline wrote; the next run replaces or removes them.";
  await writeWhole(join(out, manifestName), `${JSON.stringify({ what, ...manifest }, null, 2)}\n`);
}

/** A folder of a generation: its name says of which set it is, and what it holds. */
export const isGeneration = (name: unknown): name is string =>
  typeof name === "string" && /^[a-z-]+-[0-9a-f]{12}$/.test(name);

function namesIn(
  lists: unknown,
  isName: (name: unknown) => name is string,
): Record<string, string[]> {
  return Object.fromEntries(
    Object.entries((lists ?? {}) as Record<string, unknown[]>).map(([set, names]) => [
      set,
      names.filter(isName),
    ]),
  );
}

/** A name that stays in the folder; a list changed by hand must not lead out of it. */
function isInside(name: unknown): name is string {
  if (typeof name !== "string" || name === "") return false;
  const root = resolve("folder");
  const path = resolve(root, name);
  return path.startsWith(root + sep) && dirname(path).startsWith(root);
}
