import { lstat, rm } from "node:fs/promises";
import { join, relative, resolve } from "node:path";
import { UsageError } from "../core/usage-error.js";
import { aloneIn } from "./folder-lock.js";
import { likeRecords, readManifest, writeManifest } from "./manifest.js";
import { writeWhole } from "./write-whole.js";

/** Contents by path relative to a folder. */
export type FileSet = ReadonlyMap<string, string | Uint8Array>;

/** The set of a report printed to PDF: an older one must not stand beside a newer report. */
export const pdfSet = "report-pdf";

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
 * the way, where another run is writing there, or where it cannot be written; what was there then
 * stands.
 * @example await writeSet("out", "day", new Map([["day.html", page]]))
 */
export async function writeSet(
  folder: string,
  set: string,
  files: FileSet,
  options: { readonly keep?: boolean } = {},
): Promise<void> {
  const out = resolve(folder);
  await requireOwnPlace(out, [...files.keys()]);
  // Nothing to write and nothing to take away: not even a list is left.
  if (files.size === 0 && (await readManifest(out)).sets[set] === undefined) return;
  await aloneIn(out, async () => {
    const { sets, generations } = await readManifest(out);
    await refuseStrangers(out, [...files.keys()], Object.values(sets).flat());
    const earlier = sets[set] ?? [];
    const names = [...files.keys()];
    const during = { ...sets, [set]: [...new Set([...earlier, ...names])] };
    await writeManifest(out, { sets: during, generations });
    for (const [name, content] of files) await writeWhole(join(out, name), content);
    if (options.keep) return;
    for (const name of earlier.filter((each) => !files.has(each))) {
      await rm(join(out, name), { force: true });
    }
    await writeManifest(out, { sets: { ...sets, [set]: names }, generations });
  });
}

/**
 * Refuses a study's own folder for what the next reading would take for records.
 *
 * @throws UsageError naming a folder inside it.
 */
export async function requireOwnPlace(out: string, names: readonly string[]): Promise<void> {
  if (!names.some((name) => likeRecords.test(name))) return;
  if (!(await isThere(join(out, "study.json")))) return;
  const shown = relative(process.cwd(), out) || ".";
  throw new UsageError({
    needed: "a folder for tables",
    came: "a study's own folder was named (it holds study.json)",
    where: shown,
    todo: `Name a folder inside it, for example ${join(shown, "out")}. Nothing was written.`,
  });
}

/**
 * Refuses to write over a file, or a link, that gramline did not write.
 *
 * @throws UsageError naming the first.
 */
export async function refuseStrangers(
  out: string,
  names: readonly string[],
  ours: readonly string[],
): Promise<void> {
  const known = new Set(ours);
  for (const name of names) {
    if (known.has(name) || !(await isThere(join(out, name)))) continue;
    throw new UsageError({
      needed: `to write ${name}`,
      came: "a file of that name is there that gramline did not write",
      where: relative(process.cwd(), out) || ".",
      todo: "Move it away or name another folder. Nothing was written.",
    });
  }
}

/** A link that leads nowhere is there, too. */
const isThere = (path: string) =>
  lstat(path).then(
    () => true,
    () => false,
  );
