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
import { cellReason, cellText, isNumberColumn } from "../../section/cell-text.js";
import { intervalParts } from "../../section/interval-parts.js";
import type { Cell, Column, Table } from "../../section/section.js";

/** A table of a document: caption, head row repeated on each page, reasons of undefined numbers under it. */
export function tableParts(table: Table, wording: Wording | undefined): (Paragraph | WordTable)[] {
  const caption = new Paragraph({
    keepNext: table.rows.length > 0,
    spacing: { before: 160 },
    children: [
      new TextRun({
        text: table.rows.length === 0 ? (table.whenEmpty ?? table.caption) : table.caption,
        italics: true,
        size: 18,
      }),
    ],
  });
  if (table.rows.length === 0) return [caption];
  const numbers = table.columns.map((column, at) => isNumberColumn(column, table.rows, at));
  const reasons: string[] = [];
  const widths = columnWidths(table);
  const cell = (words: string, at: number, bold: boolean) =>
    new TableCell({
      width: { size: widths[at]!, type: WidthType.DXA },
      margins: { left: 60, right: 60, top: 20, bottom: 20 },
      children: [
        new Paragraph({
          spacing: { after: 0 },
          alignment: numbers[at] ? AlignmentType.RIGHT : AlignmentType.LEFT,
          children: [
            new TextRun({
              children: keptTogether(words),
              bold,
              size: table.columns.length > 7 ? 14 : 17,
            }),
          ],
        }),
      ],
    });
  const head = new TableRow({
    tableHeader: true,
    cantSplit: true,
    children: table.columns.map((c, at) =>
      cell(c.unit ? `${c.title} (${c.unit})` : c.title, at, true),
    ),
  });
  const body = table.rows.map(
    (row) =>
      new TableRow({
        cantSplit: true,
        children: table.columns.map((column, at) => {
          const value = row[at] ?? null;
          const reason = cellReason(value, wording);
          if (reason !== null && !reasons.includes(reason)) reasons.push(reason);
          const mark = reason === null ? "" : ` [${reasons.indexOf(reason) + 1}]`;
          return cell(`${shownText(value, column)}${mark}`, at, at === 0);
        }),
      }),
  );
  return [
    caption,
    new WordTable({
      width: { size: pageDxa, type: WidthType.DXA },
      columnWidths: widths,
      layout: TableLayoutType.FIXED,
      rows: [head, ...body],
      borders: {
        top: { style: BorderStyle.SINGLE, size: 6, color: "1b1f24" },
        bottom: { style: BorderStyle.SINGLE, size: 6, color: "1b1f24" },
        left: { style: BorderStyle.NONE, size: 0, color: "auto" },
        right: { style: BorderStyle.NONE, size: 0, color: "auto" },
        insideVertical: { style: BorderStyle.NONE, size: 0, color: "auto" },
        insideHorizontal: { style: BorderStyle.SINGLE, size: 2, color: "cdd5dc" },
      },
    }),
    ...reasons.map(
      (reason, at) =>
        new Paragraph({
          spacing: { after: 20 },
          children: [new TextRun({ text: `[${at + 1}] ${reason}`, size: 16 })],
        }),
    ),
  ];
}

/** A text whose dates do not break at their hyphens. */
function keptTogether(words: string): (string | NoBreakHyphen)[] {
  return words
    .split(/(?<=\b\d{4})(-)(?=\d\d\b)|(?<=\b\d{4}-\d\d)(-)(?=\d\d\b)/)
    .filter((part) => part !== undefined)
    .map((part) => (part === "-" ? new NoBreakHyphen() : part));
}

/** A cell's text, with spaces inside an interval that no line breaks at. */
function shownText(cell: Cell, column: Column): string {
  const text = cellText(cell, column);
  const parts = intervalParts(text);
  return parts === null ? text : parts.map((part) => part.replaceAll(" ", "\u00a0")).join(" ");
}

/** A bold word beside the same word in regular type, rounded up. */
const boldIsWider = 1.15;

/** Width of the text on A4 with the margins above, in twentieths of a point. */
const pageDxa = 10_106;

/**
 * Columns get what their longest word needs, dates and names with hyphens
 * counted as one word, and share the rest by what stands in them, so that no
 * word breaks and long sentences get room.
 */
function columnWidths(table: Table): number[] {
  const perCharacter = table.columns.length > 7 ? 82 : 98;
  const asked = table.columns.map((column, at) => {
    const texts = table.rows.map((row) => shownText(row[at] ?? null, column));
    const lengths = texts.map((each) => each.length).sort((a, b) => a - b);
    const usual = lengths[Math.floor(0.9 * (lengths.length - 1))] ?? 0;
    const head = column.unit ? `${column.title} (${column.unit})` : column.title;
    const longestWord = (all: readonly string[]) =>
      Math.max(...all.flatMap((each) => each.split(" ").map((w) => w.length)));
    // The head is bold, and so is the first column.
    const headWord = longestWord([head]) * boldIsWider;
    const word = Math.max(headWord, longestWord(texts) * (at === 0 ? boldIsWider : 1));
    const least = Math.min(word, 18) * perCharacter + 150;
    return { least, more: Math.max(0, Math.min(usual, 60) * perCharacter + 150 - least) };
  });
  const least = asked.reduce((sum, each) => sum + each.least, 0);
  const more = asked.reduce((sum, each) => sum + each.more, 0);
  if (least >= pageDxa) return asked.map((each) => Math.floor((pageDxa * each.least) / least));
  const share = more === 0 ? 0 : Math.min(1, (pageDxa - least) / more);
  const left = pageDxa - least - share * more;
  return asked.map((each) =>
    Math.floor(each.least + share * each.more + left / table.columns.length),
  );
}
