import { inflateRawSync } from "node:zlib";
import type { SizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";

/** A part of a ZIP file, as its directory says. */
interface Part {
  readonly name: string;
  readonly method: number;
  readonly packed: number;
  readonly unpacked: number;
  readonly offset: number;
}

/**
 * Checks a ZIP-based file (XLSX, ODS) before anything opens it: the sizes its
 * directory declares, then the bytes that really come out, counted part by part
 * and stopped at the limit. Returns the bytes unpacked; 0 for a file that is
 * no ZIP.
 *
 * @throws UsageError over a limit, or where the directory cannot be read.
 * Layout: PKWARE APPNOTE 6.3, end of central directory 0x06054b50, central
 * header 0x02014b50, local header 0x04034b50.
 */
export function checkUnpackedSize(file: string, bytes: Uint8Array, limits: SizeLimits): number {
  const refuse = (needed: string, came: string) => {
    throw new UsageError({
      needed,
      came,
      where: file,
      todo: "Save the sheet as CSV, or copy the records into a new workbook.",
    });
  };
  const mb = (n: number) => `${Math.round(n / 2 ** 20)} MB`;
  if (bytes.length > limits.workbookBytes)
    refuse(`a workbook of at most ${mb(limits.workbookBytes)}`, `it has ${mb(bytes.length)}`);
  if (!(bytes[0] === 0x50 && bytes[1] === 0x4b)) return 0;
  const parts = readDirectory(bytes);
  if (parts === null) return refuse("a workbook that can be opened", "its directory is damaged")!;
  if (parts.length > limits.workbookParts)
    refuse(`a workbook of at most ${limits.workbookParts} parts`, `it has ${parts.length}`);
  const declared = parts.reduce((sum, part) => sum + part.unpacked, 0);
  const tooBig = (n: string) =>
    refuse(`a workbook of at most ${mb(limits.unpackedBytes)} unpacked`, `it has ${n}`);
  if (declared > limits.unpackedBytes) tooBig(mb(declared));
  let counted = 0;
  for (const part of parts) {
    const left = limits.unpackedBytes - counted;
    const size = inflatedSize(bytes, part, left);
    if (size === "too big") tooBig(`more than that, though it declares ${mb(declared)}`);
    else if (size === "damaged")
      refuse("a workbook that can be opened", `its part ${JSON.stringify(part.name)} is damaged`);
    else counted += size;
  }
  return counted;
}

function readDirectory(bytes: Uint8Array): Part[] | null {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const u16 = (at: number) => view.getUint16(at, true);
  const u32 = (at: number) => view.getUint32(at, true);
  let end = -1;
  for (let at = bytes.length - 22; at >= 0 && at >= bytes.length - 22 - 65_535; at--) {
    if (u32(at) === 0x06054b50) {
      end = at;
      break;
    }
  }
  if (end < 0) return null;
  const count = u16(end + 10);
  let at = u32(end + 16);
  // Sizes of 4 GB and more (ZIP64) are over every limit here.
  if (count === 0xffff || at === 0xffffffff) return null;
  const parts: Part[] = [];
  for (let i = 0; i < count; i++) {
    if (at + 46 > bytes.length || u32(at) !== 0x02014b50) return null;
    const nameLength = u16(at + 28);
    const next = at + 46 + nameLength + u16(at + 30) + u16(at + 32);
    if (next > bytes.length) return null;
    parts.push({
      name: new TextDecoder().decode(bytes.subarray(at + 46, at + 46 + nameLength)),
      method: u16(at + 10),
      packed: u32(at + 20),
      unpacked: u32(at + 24),
      offset: u32(at + 42),
    });
    at = next;
  }
  return parts;
}

function inflatedSize(bytes: Uint8Array, part: Part, left: number): number | "too big" | "damaged" {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const { offset } = part;
  if (offset + 30 > bytes.length || view.getUint32(offset, true) !== 0x04034b50) return "damaged";
  const start = offset + 30 + view.getUint16(offset + 26, true) + view.getUint16(offset + 28, true);
  const end = start + part.packed;
  if (end > bytes.length) return "damaged";
  if (part.method === 0) return part.packed > left ? "too big" : part.packed;
  if (part.method !== 8) return "damaged";
  try {
    return inflateRawSync(bytes.subarray(start, end), { maxOutputLength: Math.max(1, left) })
      .length;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "ERR_BUFFER_TOO_LARGE" ? "too big" : "damaged";
  }
}
