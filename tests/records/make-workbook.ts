import { createRequire } from "node:module";

export type Value = string | number | null | { readonly v: number; readonly z: string };

export interface SheetSketch {
  readonly rows: readonly (readonly Value[])[];
  /** A1 ranges such as "A1:C1". */
  readonly merged?: readonly string[];
  readonly hiddenRows?: readonly number[];
  readonly hidden?: boolean;
  /** Cells that hold an error of the spreadsheet, by its number in the file: { D2: 23 } is #REF!. */
  readonly errors?: Readonly<Record<string, number>>;
}

// biome-ignore lint/suspicious/noExplicitAny: the workbook library is used through a few calls only
const xlsx = createRequire(import.meta.url)("@e965/xlsx") as any;

/** Writes a workbook for tests; dates are given as serial numbers with their format. */
export function makeWorkbook(
  sheets: Readonly<Record<string, SheetSketch>>,
  more: { readonly format?: "xlsx" | "ods" | "biff8"; readonly date1904?: boolean } = {},
): Uint8Array {
  const book = xlsx.utils.book_new();
  book.Workbook = { WBProps: { date1904: more.date1904 === true }, Sheets: [] };
  for (const [name, sketch] of Object.entries(sheets)) {
    const plain = sketch.rows.map((row) =>
      row.map((x) => (x !== null && typeof x === "object" ? x.v : x)),
    );
    const sheet = xlsx.utils.aoa_to_sheet(plain);
    sketch.rows.forEach((row, r) => {
      row.forEach((x, c) => {
        if (x !== null && typeof x === "object") sheet[xlsx.utils.encode_cell({ r, c })].z = x.z;
      });
    });
    for (const [cell, v] of Object.entries(sketch.errors ?? {})) sheet[cell] = { t: "e", v };
    if (sketch.merged !== undefined)
      sheet["!merges"] = sketch.merged.map((m) => xlsx.utils.decode_range(m));
    if (sketch.hiddenRows !== undefined) {
      sheet["!rows"] = [];
      for (const r of sketch.hiddenRows) sheet["!rows"][r - 1] = { hidden: true };
    }
    xlsx.utils.book_append_sheet(book, sheet, name);
    book.Workbook.Sheets.push({ Hidden: sketch.hidden === true ? 1 : 0 });
  }
  // The library remarks on formats it writes in another way; that is not what is tested.
  const loud = console.error;
  console.error = () => {};
  try {
    return new Uint8Array(
      xlsx.write(book, { type: "buffer", bookType: more.format ?? "xlsx", compression: true }),
    );
  } finally {
    console.error = loud;
  }
}

/** Days from the 1900 system's start to a local date and time (after February 1900). */
export function serial(text: string): number {
  return Date.parse(`${text.replace(" ", "T")}Z`) / 86_400_000 + 25_569;
}
