import { createHash } from "node:crypto";
import { rmSync } from "node:fs";
import { readdir, readFile, rm } from "node:fs/promises";
import { join, resolve } from "node:path";
import { whenInterrupted } from "../records/files/when-interrupted.js";
import { aloneIn } from "./folder-lock.js";
import { isGeneration, manifestName, readManifest, writeManifest } from "./manifest.js";
import { type FileSet, refuseStrangers, requireOwnPlace } from "./write-set.js";
import { writeWhole } from "./write-whole.js";

/** The page that leads to all others, and the only one that lies in the folder itself. */
export const entryName = "index.html";

/**
 * Writes a set of files so that at every moment the old set or the new one is there,
 * whole: into a folder of its own, named by what it holds, and then the page in front
 * is replaced by one that leads there. The set before goes at the next run, since
 * somebody may be reading it; at once where it holds more than may be read now.
 *
 * @param files must hold `index.html`, whose links are relative.
 * @param options `keep`: files of the current set that this one has not are taken over;
 *   `forgetOlder`: nothing of an earlier set is left behind.
 * @returns the folder of the set, relative to `folder`.
 * @throws UsageError as `writeSet`; the set that was there then stands.
 * @example await writeGeneration("out/report", "report", files) // "report-3f2a9c01b7de"
 */
export async function writeGeneration(
  folder: string,
  set: string,
  files: FileSet,
  options: { readonly keep?: boolean; readonly forgetOlder?: boolean } = {},
): Promise<string> {
  const out = resolve(folder);
  await requireOwnPlace(out, [...files.keys()]);
  return aloneIn(out, async () => {
    const { sets, generations } = await readManifest(out);
    await refuseStrangers(out, [entryName], Object.values(sets).flat());
    const current = await currentGeneration(out, set);
    const whole =
      options.keep && current !== null ? await withOlder(join(out, current), files) : files;
    const fresh = `${set}-${digestOf(whole)}`;
    await refuseStrangers(out, [fresh], generations[set] ?? []);
    const known = (generations[set] ?? []).filter((name) => name !== fresh);
    const earlier = (sets[set] ?? []).filter((name) => name !== entryName);
    // Listed before it is made: a run that is killed leaves nothing that nobody knows.
    await writeManifest(out, {
      sets: { ...sets, [set]: [entryName, ...earlier] },
      generations: { ...generations, [set]: [...known, fresh] },
    });
    // Its own list keeps a reading of the records out of it, wherever it lies.
    if (!(await holds(join(out, fresh, manifestName), "{}\n")))
      await writeWhole(join(out, fresh, manifestName), "{}\n");
    // The set that people are reading is not written again: a run that is killed leaves no part in it.
    const done = whenInterrupted(() => {
      if (current !== fresh) rmSync(join(out, fresh), { recursive: true, force: true });
    });
    for (const [name, content] of whole)
      if (!(await holds(join(out, fresh, name), content)))
        await writeWhole(join(out, fresh, name), content);
    done();
    await writeWhole(join(out, entryName), leadingTo(fresh, String(whole.get(entryName) ?? "")));
    // From here on the new set is the current one; what is older goes.
    const kept = options.forgetOlder || current === fresh ? null : current;
    for (const name of known.filter((each) => each !== kept))
      await rm(join(out, name), { recursive: true, force: true });
    for (const name of earlier) await rm(join(out, name), { force: true });
    await writeManifest(out, {
      sets: { ...sets, [set]: [entryName] },
      generations: { ...generations, [set]: kept === null ? [fresh] : [kept, fresh] },
    });
    return fresh;
  });
}

/** The folder that the page in front leads to; null where there is none. */
export async function currentGeneration(out: string, set: string): Promise<string | null> {
  const entry = await readFile(join(out, entryName), "utf8").catch(() => "");
  const named = new RegExp(`href="(${set}-[0-9a-f]{12})/`).exec(entry)?.[1];
  return named !== undefined && isGeneration(named) ? named : null;
}

/** The page in front, its links leading into the folder of the set. */
function leadingTo(generation: string, html: string): string {
  return html.replace(/(\shref=")(?![a-z]+:|[#/]|\.\.)/gi, `$1${generation}/`);
}

/** The files, and those of an older set that they do not replace. */
async function withOlder(folder: string, files: FileSet): Promise<FileSet> {
  const all = new Map(files);
  for (const entry of await readdir(folder, { withFileTypes: true }).catch(() => [])) {
    if (!entry.isFile() || entry.name.startsWith(".") || all.has(entry.name)) continue;
    all.set(entry.name, await readFile(join(folder, entry.name)));
  }
  return all;
}

/** Whether a file is there with this very content. */
async function holds(path: string, content: string | Uint8Array): Promise<boolean> {
  const there = await readFile(path).catch(() => null);
  return there?.equals(Buffer.from(content as Uint8Array)) === true;
}

function digestOf(files: FileSet): string {
  const hash = createHash("sha256");
  for (const [name, content] of [...files].sort(([a], [b]) => (a < b ? -1 : 1)))
    hash.update(name).update("\0").update(content).update("\0");
  return hash.digest("hex").slice(0, 12);
}
