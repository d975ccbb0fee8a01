import { makeWorkbook, type SheetSketch, type Value } from "../make-workbook.js";
import { type Draft, type DraftRow, type DraftTable, styled } from "./draft.js";
import { serialOf } from "./habits/times.js";
import { isNumber, timed } from "./true-study.js";

/** Files of a study as another hand wrote them, and where each true row stands in them. */
export interface Hand {
  readonly files: Readonly<Record<string, string | Uint8Array>>;
  /** "file:line" by true row. */
  readonly places: ReadonlyMap<string, string>;
  /** Lines that are rows of nothing true: copies, totals. */
  readonly otherLines: ReadonlySet<string>;
}

interface Line {
  readonly cells: readonly Value[];
  readonly ids: readonly string[];
  /** It looks like a row and is none. */
  readonly other?: true;
}

interface Page {
  readonly name: string;
  readonly lines: readonly Line[];
  readonly merged?: readonly string[];
}

/** Writes a draft to the files that its habits ask for. */
export function writeHand(draft: Draft): Hand {
  const places = new Map<string, string>();
  const otherLines = new Set<string>();
  const files: Record<string, string | Uint8Array> = {
    "study.json": JSON.stringify(draft.settings),
  };
  const sheets: Record<string, SheetSketch> = {};
  for (const table of draft.tables.values())
    for (const page of pagesOfTable(draft, table)) {
      const file = draft.style.workbook === null ? `${page.name}.csv` : `records.xlsx#${page.name}`;
      page.lines.forEach(({ ids, other }, i) => {
        for (const id of ids) places.set(id, `${file}:${i + 1}`);
        if (other) otherLines.add(`${file}:${i + 1}`);
      });
      const rows = page.lines.map((line) => line.cells);
      if (draft.style.workbook === null) files[file] = textOf(draft, rows);
      else
        sheets[page.name] = {
          rows,
          ...(page.merged === undefined ? {} : { merged: page.merged }),
        };
    }
  if (draft.style.workbook !== null)
    files["records.xlsx"] = makeWorkbook(sheets, { date1904: draft.style.workbook === "1904" });
  return { files, places, otherLines };
}

function pagesOfTable(draft: Draft, table: DraftTable): Page[] {
  const { rows, file } = table;
  const idOf = (row: DraftRow) => row.cells["animal_id"] ?? "";
  const animals = [...new Set(rows.filter((r) => r.id !== null).map(idOf))].sort();
  switch (table.layout) {
    case "list":
      return [{ name: file, lines: listOf(draft, table, rows) }];
    case "by month": {
      const days = rows.map((r) => r.cells["at"]?.slice(0, 10) ?? "").filter((d) => d !== "");
      const middle = [...days].sort()[days.length >> 1]!;
      const early = (row: DraftRow) => (row.cells["at"] ?? "").slice(0, 10) < middle;
      return [
        { name: `${file}-1`, lines: listOf(draft, table, rows.filter(early)) },
        {
          name: `${file}-2`,
          lines: listOf(
            draft,
            table,
            rows.filter((r) => !early(r)),
          ),
        },
      ];
    }
    case "sheet per animal": {
      const own = { ...table, columns: table.columns.filter((c) => c !== "animal_id") };
      return animals.map((id) => ({
        name: id,
        lines: listOf(
          draft,
          own,
          rows.filter((r) => idOf(r) === id),
        ),
      }));
    }
    case "merged ids": {
      const sorted = animals.flatMap((id) =>
        rows.filter((r) => idOf(r) === id).map((r, i) => (i === 0 ? r : withoutId(r))),
      );
      const column = "ABCDEFGHIJKLMNOP"[table.columns.indexOf("animal_id")]!;
      let top = table.above.length + 2;
      const merged = animals.map((id) => {
        const bottom = top + rows.filter((r) => idOf(r) === id).length - 1;
        const range = `${column}${top}:${column}${bottom}`;
        top = bottom + 1;
        return range;
      });
      return [{ name: file, lines: listOf(draft, table, sorted), merged }];
    }
    case "side by side": {
      const blocks = animals.map((id) =>
        listOf(
          draft,
          table,
          rows.filter((r) => idOf(r) === id),
        ),
      );
      const height = Math.max(...blocks.map((b) => b.length));
      const width = table.columns.length + (draft.style.split ? 1 : 0);
      const empty: Line = { cells: Array.from({ length: width }, () => null), ids: [] };
      const lines = Array.from({ length: height }, (_, i) => {
        const parts = blocks.map((b) => b[i] ?? empty);
        return {
          cells: parts.flatMap((p, b) => (b === 0 ? p.cells : [null, ...p.cells])),
          ids: parts.flatMap((p) => p.ids),
        };
      });
      return [{ name: file, lines }];
    }
    case "days across":
      return [{ name: file, lines: daysAcross(draft, rows, animals) }];
  }
}

const withoutId = (row: DraftRow): DraftRow => ({ ...row, cells: { ...row.cells, animal_id: "" } });

function listOf(draft: Draft, table: DraftTable, rows: readonly DraftRow[]): Line[] {
  const split = (column: string) => draft.style.split && column === "at";
  const header: Line = {
    cells: table.columns.flatMap((column) =>
      split(column) ? ["Date", "Time"] : [table.headers.get(column) ?? column],
    ),
    ids: [],
  };
  const lines: Line[] = [...table.above.map((text) => ({ cells: [text], ids: [] })), header];
  rows.forEach((row, i) => {
    if (table.repeatHeaderEvery !== null && i > 0 && i % table.repeatHeaderEvery === 0)
      lines.push(header);
    const cells = table.columns.flatMap((column): Value[] => {
      const cell = row.cells[column] ?? "";
      if (!split(column)) return [sheetValue(draft, column, cell)];
      const [date = "", time = ""] = cell.split(" ");
      if (time === "") return ["", ""];
      return [draft.style.date(date), draft.style.clock(time)];
    });
    const blank = Object.keys(row.cells).length === 0;
    lines.push({
      cells,
      ids: row.id === null ? [] : [row.id],
      ...(row.id === null && !blank ? { other: true as const } : {}),
    });
  });
  return lines;
}

function daysAcross(draft: Draft, rows: readonly DraftRow[], animals: readonly string[]): Line[] {
  const days = [...new Set(rows.map((r) => r.cells["at"]!.slice(0, 10)))].sort();
  const base = draft.style.workbook === "1904" ? 1462 : 0;
  return [
    {
      cells: [
        "animal_id",
        ...days.map((d): Value => ({ v: serialOf(d, "00:00") - base, z: "yyyy-mm-dd" })),
      ],
      ids: [],
    },
    ...animals.map((id): Line => {
      const own = days.map((day) =>
        rows.find((r) => r.cells["animal_id"] === id && r.cells["at"]!.startsWith(day)),
      );
      const net = (r: DraftRow) => Number(r.cells["mass_g"]) - Number(r.cells["tare_g"]);
      return {
        cells: [id, ...own.map((r): Value => (r === undefined ? null : net(r)))],
        ids: own.flatMap((r) => (r === undefined || r.id === null ? [] : [r.id])),
      };
    }),
  ];
}

/** A date cell cannot hold 31 April: the slip stays a text. */
const exists = (iso: string) => new Date(`${iso}T00:00Z`).toISOString().startsWith(iso);

function sheetValue(draft: Draft, column: string, cell: string): Value {
  const { workbook } = draft.style;
  if (workbook === null) return styled(draft, column, cell);
  const at = /^(\d{4}-\d\d-\d\d) (\d\d:\d\d)$/.exec(cell);
  if (timed.has(column) && at !== null && exists(at[1]!) && workbook !== "texts")
    return {
      v: serialOf(at[1]!, at[2]!) - (workbook === "1904" ? 1462 : 0),
      z: "yyyy-mm-dd hh:mm",
    };
  if ((isNumber(column) || column === "value") && /^\d+(\.\d+)?$/.test(cell)) return Number(cell);
  return cell === "" ? null : styled(draft, column, cell);
}

function textOf({ style }: Draft, rows: readonly (readonly Value[])[]): string | Uint8Array {
  const text = rows
    .map((cells) => cells.map((cell) => quoted(String(cell ?? ""), style)).join(style.delimiter))
    .concat("")
    .join(style.newline);
  if (style.encoding === "utf16le") return new Uint8Array(Buffer.from(`\ufeff${text}`, "utf16le"));
  if (style.encoding === "latin1") return new Uint8Array(Buffer.from(text, "latin1"));
  return style.encoding === "bom" ? `\ufeff${text}` : text;
}

function quoted(cell: string, style: Draft["style"]): string {
  const needs = style.quoteAll || cell.includes(style.delimiter) || /["\n]/.test(cell);
  return needs ? `"${cell.replaceAll('"', '""')}"` : cell;
}
