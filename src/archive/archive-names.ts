import { createHash } from "node:crypto";
import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";

/**
 * The name of a facility, which becomes the name of folders on every system.
 *
 * @throws UsageError where it is anything but letters a to z, digits, "-" and "_", or too long.
 * @example facilityName("oak-bay") // "oak-bay"
 */
export function facilityName(written: string): string {
  if (/^[A-Za-z0-9][A-Za-z0-9_-]*$/.test(written) && written.length <= sizeLimits.facilityLetters)
    return written;
  throw new UsageError({
    needed: `a name for the facility of letters a to z, digits, - and _, at most ${sizeLimits.facilityLetters} of them`,
    came: `"${shortened(written, sizeLimits.repeatedLetters)}" was given`,
    where: "--facility",
    todo: "Write for example --facility north-bay.",
  });
}

/**
 * One part of a path that says which facility or season lies below it. Other signs than
 * letters, digits, "-", "_" and "." are written as bytes (%2F), as is usual for such folders.
 *
 * @example partOfPath("season", "2024/25") // "season=2024%2F25"
 * @example partOfPath("season", null) // "season=__HIVE_DEFAULT_PARTITION__"
 */
export function partOfPath(what: "facility" | "season", value: string | null): string {
  if (value === null) return `${what}=__HIVE_DEFAULT_PARTITION__`;
  const bytes = [...Buffer.from(value, "utf8")];
  const safe = bytes
    .map((byte, i) => {
      const sign = String.fromCharCode(byte);
      const last = i === bytes.length - 1;
      return /[A-Za-z0-9_-]/.test(sign) || (sign === "." && !last)
        ? sign
        : `%${byte.toString(16).toUpperCase().padStart(2, "0")}`;
    })
    .join("");
  // Longer than a file system takes: cut, and told apart by its digest.
  const most = sizeLimits.archiveFolderLetters;
  if (safe.length <= most) return `${what}=${safe}`;
  return `${what}=${safe.slice(0, most - 20).replace(/%.?$/, "")}-${shortDigest(value)}`;
}

/** Twelve digits of the SHA-256 of texts. */
export function shortDigest(...texts: readonly string[]): string {
  const hash = createHash("sha256");
  for (const text of texts) hash.update(text).update("\0");
  return hash.digest("hex").slice(0, 12);
}

/** The key of a study in its facility: what replaces it when it comes again. */
export const studyKey = (facility: string, name: string) => shortDigest(facility, name);

/** A file of a study: its table, facility and season, and the generation that it is of. */
export function pathOfFile(
  table: string,
  facility: string,
  season: string | null,
  generation: string,
): string {
  return [
    table,
    partOfPath("facility", facility),
    partOfPath("season", season),
    `${generation}.parquet`,
  ].join("/");
}
