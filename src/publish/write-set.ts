import { existsSync } from "node:fs";
import { readFile, rm } from "node:fs/promises";
import { dirname, join, relative, resolve, sep } from "node:path";
import { UsageError } from "../core/usage-error.js";
import { writeWhole } from "./write-whole.js";

/** Every set of files in one folder, by the command that wrote it. */
type Manifest = Record<string, string[]>;

/** The set of a report printed to PDF: an older one must not stand beside a newer report. */
export const pdfSet = "report-pdf";

/** The list of what was written, beside it: a file that it does not name is somebody else's. */
export const manifestName = ".written-by-gramline.json";

/** Files that the next reading of a study would take for records of it. */
const likeRecords = /^[^/\\]+\.(csv|tsv|tab|json|xlsx|xlsm|xls|ods)$/i;

/**
 * Writes the files of one command into a folder: each whole or not at all, none
 * over a file that gramline did not write, and none of an earlier run left
 * behind. The list beside them is written first, so that a run that was killed
 * leaves nothing that the next one takes for somebody else's.
 *
 * @param set the command, whose earlier files go.
 * @param files contents by path relative to the folder.
 * @param options `keep`: the set is added to, and its earlier files stay.
 * @throws UsageError where tables would lie among a study's records, where an unknown file is in
 * the way, or where it cannot be written; what was there then stands.
 * @example await writeSet("out/report", "report", new Map([["report.html", page]]))
 */
export async function writeSet(
  folder: string,
  set: string,
  files: ReadonlyMap<string, string | Uint8Array>,
  options: { readonly keep?: boolean } = {},
): Promise<void> {
  const out = resolve(folder);
  const shown = relative(process.cwd(), out) || ".";
  if (existsSync(join(out, "study.json")) && [...files.keys()].some((n) => likeRecords.test(n))) {
    throw new UsageError({
      needed: "a folder for tables",
      came: "a study's own folder was named (it holds study.json)",
      where: shown,
      todo: `Name a folder inside it, for example ${join(shown, "out")}. Nothing was written.`,
    });
  }
  const manifest = await readManifest(out);
  const ours = new Set(Object.values(manifest).flat());
  const strange = [...files.keys()].filter(
    (name) => !ours.has(name) && existsSync(join(out, name)),
  );
  if (strange.length > 0) {
    throw new UsageError({
      needed: `to write ${strange[0]}`,
      came: "a file of that name is there that gramline did not write",
      where: shown,
      todo: "Move it away or name another folder. Nothing was written.",
    });
  }
  const earlier = manifest[set] ?? [];
  const names = [...files.keys()];
  await writeManifest(out, { ...manifest, [set]: [...new Set([...earlier, ...names])] });
  for (const [name, content] of files) await writeWhole(join(out, name), content);
  if (options.keep) return;
  for (const name of earlier.filter((each) => !files.has(each))) {
    await rm(join(out, name), { force: true });
  }
  await writeManifest(out, { ...manifest, [set]: names });
}

async function readManifest(out: string): Promise<Manifest> {
  const text = await readFile(join(out, manifestName), "utf8").catch(() => "{}");
  try {
    const { sets } = JSON.parse(text) as { sets?: Record<string, unknown> };
    return Object.fromEntries(
      Object.entries(sets ?? {}).map(([set, names]) => [
        set,
        (names as unknown[]).filter(isInside),
      ]),
    );
  } catch {
    // A list that cannot be read vouches for nothing.
    return {};
  }
}

/** A name that stays in the folder; a list changed by hand must not lead out of it. */
function isInside(name: unknown): name is string {
  if (typeof name !== "string" || name === "") return false;
  const root = resolve("folder");
  const path = resolve(root, name);
  return path.startsWith(root + sep) && dirname(path).startsWith(root);
}

async function writeManifest(out: string, sets: Manifest): Promise<void> {
  const what = "Files in this folder that gramline wrote; the next run replaces or removes them.";
  await writeWhole(join(out, manifestName), `${JSON.stringify({ what, sets }, null, 2)}\n`);
}
