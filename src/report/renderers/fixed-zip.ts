import { strFromU8, strToU8, unzipSync, type Zippable, zipSync } from "fflate";

/**
 * Writes a ZIP-based file (DOCX, XLSX) again with entries in order of name and
 * one fixed time, so that the same content gives the same bytes. `change` may
 * replace the text of an entry.
 */
export function fixedZip(
  bytes: Uint8Array,
  isoDate: string,
  change: (name: string, text: string) => string = (_, text) => text,
): Uint8Array {
  const entries = unzipSync(bytes);
  // ZIP holds local times without a zone: the parts of the date are given, not an instant.
  const [year = 1980, month = 1, day = 1] = isoDate.split("-").map(Number);
  const mtime = new Date(year, month - 1, day, 12, 0, 0);
  const out: Zippable = {};
  for (const name of Object.keys(entries).sort(packagesFirst)) {
    if (name.endsWith("/")) continue;
    const data = /\.(xml|rels)$/.test(name)
      ? strToU8(change(name, strFromU8(entries[name]!)))
      : entries[name]!;
    out[name] = [data, { mtime, level: 6 }];
  }
  return zipSync(out);
}

/** Some readers look for the list of contents at the front. */
function packagesFirst(a: string, b: string): number {
  const rank = (name: string) =>
    name === "[Content_Types].xml" ? 0 : name === "_rels/.rels" ? 1 : 2;
  return rank(a) - rank(b) || (a < b ? -1 : a > b ? 1 : 0);
}
