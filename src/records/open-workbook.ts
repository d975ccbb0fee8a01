import { createRequire } from "node:module";
import { shortened } from "../core/shortened.js";
import { type SizeLimits, sizeLimits } from "../core/size-limits.js";
import { UsageError } from "../core/usage-error.js";
import { dateOfNumber } from "../units/calendar.js";
import type { GridCell, MergedRange, SheetGrid } from "./sheet-grid.js";
import { checkUnpackedSize } from "./unpacked-size.js";

/**
 * Opens a workbook (XLSX, XLS, ODS): the only place that knows the workbook
 * library. Numbers stay numbers; cells shown as dates or times become local
 * text without a zone, reckoned here from the serial number in the file's own
 * date system (1900 or 1904), never through the computer's time zone.
 *
 * @throws UsageError over a limit or when it cannot be opened; nothing is then read.
 */
export function openWorkbook(
  file: string,
  bytes: Uint8Array,
  limits: SizeLimits = sizeLimits,
): SheetGrid[] {
  checkUnpackedSize(file, bytes, limits);
  const xlsx = createRequire(import.meta.url)("@e965/xlsx") as WorkbookPackage;
  let book: Book;
  try {
    book = xlsx.read(bytes, {
      type: "buffer",
      dense: true,
      cellNF: true,
      cellText: false,
      cellHTML: false,
      cellFormula: false,
      cellStyles: true,
      cellDates: false,
      bookVBA: false,
    });
  } catch (error) {
    const reason =
      error instanceof Error
        ? shortened(error.message, sizeLimits.repeatedLetters)
        : "unknown reason";
    throw new UsageError({
      needed: "a workbook that can be opened",
      came: `it cannot (${reason})`,
      where: file,
      todo: "Open it in a spreadsheet program and save it again, or save its sheets as CSV.",
    });
  }
  const from1904 = book.Workbook?.WBProps?.date1904 === true;
  let cells = 0;
  return book.SheetNames.map((written, i) => {
    // A damaged workbook may have a sheet without a name.
    const name = typeof written === "string" ? written : `sheet ${i + 1}`;
    const sheet = book.Sheets[String(written)] as Sheet | undefined;
    const used = sheet?.["!ref"] === undefined ? null : xlsx.utils.decode_range(sheet["!ref"]);
    if (sheet === undefined || used === null) return emptySheet(name);
    cells += cellsIn(sheet, used);
    if (cells > limits.workbookCells)
      throw new UsageError({
        needed: `sheets of at most ${limits.workbookCells} cells`,
        came: `it has ${cells}`,
        where: file,
        todo: "Delete unused rows and columns, or save the sheet as CSV.",
      });
    return readSheet(name, sheet, used, from1904, hiddenSheet(book, i), xlsx);
  });
}

/** Cells of a sheet up to the last one of each row; the range that it claims may be far larger. */
function cellsIn(sheet: Sheet, used: Range): number {
  const rows = (sheet["!data"] ?? []).slice(used.s.r, used.e.r + 1);
  return rows.reduce(
    (sum, row) => sum + Math.max(0, Math.min(used.e.c + 1, row?.length ?? 0) - used.s.c),
    rows.length,
  );
}

function readSheet(
  name: string,
  sheet: Sheet,
  used: Range,
  from1904: boolean,
  hidden: boolean,
  xlsx: WorkbookPackage,
): SheetGrid {
  const rows: GridCell[][] = [];
  const data = sheet["!data"] ?? [];
  // The range a sheet claims to use may be far larger than what is in it.
  const last = Math.min(used.e.r, data.length - 1);
  let width = 0;
  for (let r = used.s.r; r <= last; r++) {
    const row = data[r];
    const out: GridCell[] = [];
    const end = Math.min(used.e.c, (row?.length ?? 0) - 1);
    width = Math.max(width, end - used.s.c + 1);
    if (row !== undefined)
      for (let c = used.s.c; c <= end; c++) out.push(readCell(row[c], from1904, xlsx));
    rows.push(out);
  }
  const hiddenRows = (sheet["!rows"] ?? []).flatMap((info, r) =>
    info?.hidden === true && r >= used.s.r && r <= last ? [r + 1] : [],
  );
  const merged = (sheet["!merges"] ?? []).map(
    (m): MergedRange => ({
      top: m.s.r - used.s.r,
      left: m.s.c - used.s.c,
      bottom: Math.min(m.e.r, last) - used.s.r,
      right: Math.min(m.e.c - used.s.c, width - 1),
    }),
  );
  return {
    name,
    hidden,
    firstRow: used.s.r + 1,
    firstColumn: used.s.c,
    rows,
    hiddenRows,
    merged,
  };
}

function readCell(cell: Cell | undefined, from1904: boolean, xlsx: WorkbookPackage): GridCell {
  if (cell === undefined) return null;
  if (cell.t === "e") return errorNames[Number(cell.v)] ?? "#ERROR!";
  if (cell.v === undefined || cell.v === null) return null;
  if (cell.t === "n" && typeof cell.v === "number") {
    const format = typeof cell.z === "string" ? cell.z : "";
    if (format !== "" && format !== "General" && xlsx.SSF.is_date(format)) {
      const when = serialText(
        cell.v,
        from1904,
        /h|s/i.test(format.replace(/\[[^\]]*\]|"[^"]*"/g, "")),
      );
      if (when !== null) return { when };
    }
    return cell.v;
  }
  if (cell.t === "b") return cell.v === true ? "yes" : "no";
  if (cell.v instanceof Date) return { when: cell.v.toISOString().slice(0, 19).replace("T", " ") };
  return String(cell.v);
}

/**
 * Errors by their number in a file ([MS-XLS] 2.5.10, BErr), as the sheet shows them:
 * what failed is no blank cell. Newer ones have no number here and keep no name.
 */
const errorNames: Readonly<Record<number, string>> = {
  0: "#NULL!",
  7: "#DIV/0!",
  15: "#VALUE!",
  23: "#REF!",
  29: "#NAME?",
  36: "#NUM!",
  42: "#N/A",
  43: "#GETTING_DATA",
};

/**
 * A serial date as local text. Day 1 is 1900-01-01, or day 0 is 1904-01-01; the
 * 1900 system counts a 29 February 1900 that never was (ECMA-376 part 1,
 * 18.17.4.1), so serials below 60 lie a day off and 60 is no date. A serial
 * below 1 is a time of day.
 *
 * @example serialText(45779.25, false, true) // "2025-05-02 06:00"
 */
export function serialText(serial: number, from1904: boolean, withTime: boolean): string | null {
  if (!(serial >= 0) || serial > 2_958_466) return null;
  // To the second: serials carry about a hundredth of a millisecond of noise.
  const seconds = Math.round(serial * 86_400);
  const day = Math.floor(seconds / 86_400);
  const rest = seconds - day * 86_400;
  const two = (n: number) => String(n).padStart(2, "0");
  const s = rest % 60;
  const clock = `${two(Math.floor(rest / 3600))}:${two(Math.floor(rest / 60) % 60)}${s === 0 ? "" : `:${two(s)}`}`;
  if (day === 0 && (!from1904 || (withTime && rest > 0))) return clock;
  if (!from1904 && day === 60) return null;
  const epoch = from1904 ? 24_107 : day < 60 ? 25_568 : 25_569;
  const date = dateOfNumber(day - epoch);
  return withTime || rest > 0 ? `${date} ${clock}` : date;
}

const hiddenSheet = (book: Book, i: number) => (book.Workbook?.Sheets?.[i]?.Hidden ?? 0) !== 0;

function emptySheet(name: string): SheetGrid {
  return { name, hidden: false, firstRow: 1, rows: [], hiddenRows: [], merged: [] };
}

interface Place {
  readonly r: number;
  readonly c: number;
}
interface Range {
  readonly s: Place;
  readonly e: Place;
}
interface Cell {
  readonly t: string;
  readonly v?: unknown;
  readonly z?: unknown;
}
interface Sheet {
  readonly "!ref"?: string;
  readonly "!data"?: readonly (readonly (Cell | undefined)[] | undefined)[];
  readonly "!merges"?: readonly Range[];
  readonly "!rows"?: readonly ({ readonly hidden?: boolean } | undefined)[];
}
interface Book {
  readonly SheetNames: readonly string[];
  readonly Sheets: Readonly<Record<string, unknown>>;
  readonly Workbook?: {
    readonly WBProps?: { readonly date1904?: boolean };
    readonly Sheets?: readonly { readonly Hidden?: number }[];
  };
}
interface WorkbookPackage {
  read(bytes: Uint8Array, options: object): Book;
  readonly utils: { decode_range(ref: string): Range };
  readonly SSF: { is_date(format: string): boolean };
}
