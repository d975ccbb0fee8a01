import {
  AlignmentType,
  BorderStyle,
  NoBreakHyphen,
  Paragraph,
  TableCell,
  TableLayoutType,
  TableRow,
  TextRun,
  WidthType,
  Table as WordTable,
} from "docx";
import type { Wording } from "../../../core/wording.js";
import { cellReason, isNumberColumn } from "../../section/cell-text.js";
import type { Table } from "../../section/section.js";
import { type ColumnsOnPage, columnsOnPage, pageDxa, shownText } from "./document-columns.js";

/** A table of a document: caption, head row repeated on each page, reasons of undefined numbers under it. */
export function tableParts(
  table: Table,
  wording: Wording | undefined,
  set: (words: string) => string,
): (Paragraph | WordTable)[] {
  const caption = new Paragraph({
    keepNext: table.rows.length > 0,
    spacing: { before: 160 },
    children: [
      new TextRun({
        text: set(table.rows.length === 0 ? (table.whenEmpty ?? table.caption) : table.caption),
        italics: true,
        size: 18,
      }),
    ],
  });
  if (table.rows.length === 0) return [caption];
  const numbers = table.columns.map((column, at) => isNumberColumn(column, table.rows, at));
  const reasons: string[] = [];
  const cell = (words: string, at: number, bold: boolean, width: number, size: number) =>
    new TableCell({
      width: { size: width, type: WidthType.DXA },
      margins: { left: 60, right: 60, top: 20, bottom: 20 },
      children: [
        new Paragraph({
          spacing: { after: 0 },
          alignment: numbers[at] ? AlignmentType.RIGHT : AlignmentType.LEFT,
          children: [
            new TextRun({
              children: keptTogether(words),
              bold,
              size,
            }),
          ],
        }),
      ],
    });
  const rowOf = (piece: ColumnsOnPage, words: (at: number) => string, isHead: boolean) =>
    new TableRow({
      ...(isHead ? { tableHeader: true } : {}),
      cantSplit: true,
      children: piece.columns.map((at, i) =>
        cell(words(at), at, isHead || at === 0, piece.widths[i]!, piece.size),
      ),
    });
  const titleOf = (at: number) => {
    const { title, unit } = table.columns[at]!;
    return unit ? `${title} (${unit})` : title;
  };
  const wordsOf = (row: Table["rows"][number], at: number) => {
    const value = row[at] ?? null;
    const reason = cellReason(value, wording);
    if (reason !== null && !reasons.includes(reason)) reasons.push(reason);
    const mark = reason === null ? "" : ` [${reasons.indexOf(reason) + 1}]`;
    return `${set(shownText(value, table.columns[at]!))}${mark}`;
  };
  const pieces = columnsOnPage(table).flatMap((piece, i) => [
    // Two tables without a paragraph between them would be one.
    ...(i === 0 ? [] : [new Paragraph({ keepNext: true, spacing: { after: 40 }, children: [] })]),
    new WordTable({
      width: { size: pageDxa, type: WidthType.DXA },
      columnWidths: [...piece.widths],
      layout: TableLayoutType.FIXED,
      rows: [
        rowOf(piece, titleOf, true),
        ...table.rows.map((row) => rowOf(piece, (at) => wordsOf(row, at), false)),
      ],
      borders,
    }),
  ]);
  return [
    caption,
    ...pieces,
    ...reasons.map(
      (reason, at) =>
        new Paragraph({
          spacing: { after: 20 },
          children: [new TextRun({ text: `[${at + 1}] ${reason}`, size: 16 })],
        }),
    ),
  ];
}

const line = { style: BorderStyle.SINGLE, size: 6, color: "1b1f24" } as const;
const none = { style: BorderStyle.NONE, size: 0, color: "auto" } as const;
const borders = {
  top: line,
  bottom: line,
  left: none,
  right: none,
  insideVertical: none,
  insideHorizontal: { style: BorderStyle.SINGLE, size: 2, color: "cdd5dc" },
} as const;

/** A text whose dates do not break at their hyphens. */
function keptTogether(words: string): (string | NoBreakHyphen)[] {
  return words
    .split(/(?<=\b\d{4})(-)(?=\d\d\b)|(?<=\b\d{4}-\d\d)(-)(?=\d\d\b)/)
    .filter((part) => part !== undefined)
    .map((part) => (part === "-" ? new NoBreakHyphen() : part));
}
