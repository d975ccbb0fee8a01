import { createRequire } from "node:module";
import { fitted } from "../../../core/shortened.js";
import { sizeLimits } from "../../../core/size-limits.js";
import type { Wording } from "../../../core/wording.js";
import type { Table } from "../../section/section.js";
import { fixedZip } from "../fixed-zip.js";
import { type SheetAnimal, type SheetCell, sheetCells } from "./sheet-cells.js";

/**
 * Tables as one workbook (XLSX), a sheet each, after a first sheet that lists
 * them with their captions. Texts are stored as texts and can never act as
 * formulas. The same input and date give the same bytes.
 */
export function workbook(
  tables: readonly Table[],
  options: {
    readonly title: string;
    readonly date: string;
    readonly wording?: Wording;
    /** Whom the tables are about: id, name, species and season become columns. */
    readonly animals?: readonly SheetAnimal[];
  },
): Uint8Array {
  const xlsx = createRequire(import.meta.url)("@e965/xlsx") as SheetPackage;
  const book = xlsx.utils.book_new();
  const names = sheetNames(["contents", ...tables.map((each) => each.name)]);
  const contents: SheetCell[][] = [
    [options.title],
    [`Report of ${options.date}`],
    [],
    ["Sheet", "Holds"],
    ...tables.map((each, at) => [names[at + 1]!, each.caption]),
  ];
  // The title may run over its neighbours; the list under it sets the widths.
  append(xlsx, book, contents, names[0]!, 3);
  for (const [at, each] of tables.entries()) {
    const [header, ...rows] = sheetCells(each, options.wording, options.animals);
    append(xlsx, book, [header, ...rows], names[at + 1]!);
  }
  book.Props = { Title: options.title, Author: "gramline" };
  const bytes: Uint8Array = xlsx.write(book, {
    type: "buffer",
    bookType: "xlsx",
    compression: true,
  });
  const instant = `${options.date}T12:00:00Z`;
  return fixedZip(new Uint8Array(bytes), options.date, (name, text) =>
    name === "docProps/core.xml"
      ? text.replace(/(<dcterms:(?:created|modified)[^>]*>)[^<]*/g, `$1${instant}`)
      : text,
  );
}

function append(
  xlsx: SheetPackage,
  book: Book,
  rows: readonly (readonly SheetCell[])[],
  name: string,
  widthsFrom = 0,
): void {
  const sheet = xlsx.utils.aoa_to_sheet(rows as SheetCell[][]);
  for (const [address, cell] of Object.entries(sheet)) {
    // A text stays a text whatever it begins with.
    if (!address.startsWith("!") && typeof cell?.v === "string") {
      cell.v = heldByCell(cell.v);
      cell.t = "s";
      delete cell.f;
    }
  }
  const measured = rows.slice(widthsFrom, 200);
  const widths = (measured[0] ?? []).map((_, at) =>
    Math.min(60, Math.max(8, ...measured.map((row) => String(row[at] ?? "").length + 2))),
  );
  sheet["!cols"] = widths.map((wch) => ({ wch }));
  xlsx.utils.book_append_sheet(book, sheet, name);
}

/** A text that is too long for a cell, shortened so that one sees it; CSV files hold it whole. */
function heldByCell(text: string): string {
  if (text.length <= sizeLimits.sheetCellLetters) return text;
  const note = ` \u2026 (shortened: ${text.length} characters; the CSV file holds all)`;
  return (
    text.slice(0, sizeLimits.sheetCellLetters - note.length).replace(/[\uD800-\uDBFF]$/, "") + note
  );
}

/** At most 31 characters, no reserved signs, all different: what the format asks of sheet names. */
export function sheetNames(wanted: readonly string[]): string[] {
  const taken = new Set<string>();
  return wanted.map((each) => {
    const clean = each.replace(/[\\/?*[\]:']/g, " ").trim() || "table";
    let name = fitted(clean, sizeLimits.sheetNameLetters);
    for (let n = 2; taken.has(name.toLowerCase()); n++)
      name = `${fitted(clean, sizeLimits.sheetNameLetters - 4)} ${n}`;
    taken.add(name.toLowerCase());
    return name;
  });
}

// biome-ignore lint/suspicious/noExplicitAny: the sheet library is used through these few calls only
type Untyped = any;
interface Book {
  Props?: Record<string, string>;
}
interface SheetPackage {
  readonly utils: {
    book_new(): Book;
    aoa_to_sheet(rows: SheetCell[][]): Record<string, Untyped>;
    book_append_sheet(book: Book, sheet: object, name: string): void;
  };
  write(book: Book, options: object): Uint8Array;
}
