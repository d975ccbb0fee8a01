import {
  AlignmentType,
  BorderStyle,
  Document,
  Footer,
  HeadingLevel,
  ImageRun,
  Packer,
  PageNumber,
  Paragraph,
  ShadingType,
  TableCell,
  TableLayoutType,
  TableRow,
  TextRun,
  WidthType,
  Table as WordTable,
} from "docx";
import type { Chart } from "../../charts/chart.js";
import { renderPng } from "../../charts/render-png.js";
import { renderSvg } from "../../charts/render-svg.js";
import { noticeText } from "../../core/catalogue.js";
import type { Wording } from "../../core/wording.js";
import { cellReason, cellText, isNumberColumn } from "../cell-text.js";
import { fixedZip } from "../fixed-zip.js";
import type { Block, Section, Table } from "../section.js";

export interface DocumentInput {
  readonly title: string;
  readonly under: string;
  readonly foot: string;
  /** YYYY-MM-DD; stands in the file instead of the clock. */
  readonly date: string;
  readonly sections: readonly Section[];
  readonly wording?: Wording;
}

/**
 * A report as a Word document: headings that Word can list, tables with
 * repeated head rows, charts as pictures with a text for screen readers. The
 * same input gives the same bytes.
 */
export async function reportDocument(input: DocumentInput): Promise<Uint8Array> {
  const children = [
    new Paragraph({ text: input.title, heading: HeadingLevel.TITLE }),
    new Paragraph({ children: [new TextRun({ text: input.under, color: "4a5560" })] }),
    ...input.sections.flatMap((each) => sectionParts(each, 1, input.wording)),
  ];
  const document = new Document({
    title: input.title,
    creator: "gramline",
    lastModifiedBy: "gramline",
    description: input.foot,
    styles: {
      default: {
        document: { run: { font: "Arial", size: 20 }, paragraph: { spacing: { after: 100 } } },
        title: { run: { size: 36, bold: true, color: "1b1f24" } },
        heading1: {
          run: { size: 28, bold: true, color: "0b4f71" },
          paragraph: { spacing: { before: 320, after: 120 } },
        },
        heading2: {
          run: { size: 24, bold: true, color: "1b1f24" },
          paragraph: { spacing: { before: 240, after: 100 } },
        },
        heading3: {
          run: { size: 22, bold: true, color: "1b1f24" },
          paragraph: { spacing: { before: 200, after: 80 } },
        },
      },
    },
    sections: [
      {
        properties: {
          page: {
            size: { width: 11906, height: 16838 },
            margin: { top: 1000, bottom: 1000, left: 900, right: 900 },
          },
        },
        footers: {
          default: new Footer({
            children: [
              new Paragraph({
                children: [
                  new TextRun({ text: `${input.foot}  `, size: 15, color: "4a5560" }),
                  new TextRun({ children: [PageNumber.CURRENT], size: 15, color: "4a5560" }),
                ],
              }),
            ],
          }),
        },
        children,
      },
    ],
  });
  const bytes = new Uint8Array(await Packer.toBuffer(document));
  const instant = `${input.date}T12:00:00Z`;
  return fixedZip(bytes, input.date, (name, text) => {
    if (name === "docProps/core.xml") {
      return text.replace(/(<dcterms:(?:created|modified)[^>]*>)[^<]*/g, `$1${instant}`);
    }
    // The library counts pictures over the life of the process; here they count from one.
    let pictures = 0;
    return text.replace(/<wp:docPr id="\d+"/g, () => `<wp:docPr id="${++pictures}"`);
  });
}

type Part = Paragraph | WordTable;

const headings = [HeadingLevel.HEADING_1, HeadingLevel.HEADING_2, HeadingLevel.HEADING_3] as const;

function sectionParts(section: Section, level: number, wording: Wording | undefined): Part[] {
  return [
    new Paragraph({ text: section.heading, heading: headings[Math.min(level, 3) - 1]! }),
    ...section.blocks.flatMap((block) => blockParts(block, wording)),
    ...(section.sections ?? []).flatMap((each) => sectionParts(each, level + 1, wording)),
  ];
}

function blockParts(block: Block, wording: Wording | undefined): Part[] {
  switch (block.kind) {
    case "text":
      return block.text
        .split(/\n\s*\n/)
        .filter((part) => part.trim() !== "")
        .map((part) => new Paragraph({ text: part.trim() }));
    case "list":
      return block.items.map((item) => new Paragraph({ text: item, bullet: { level: 0 } }));
    case "notices":
      return block.notices.map(
        (each) => new Paragraph({ text: noticeText(each, wording), bullet: { level: 0 } }),
      );
    case "caution":
      return [
        new Paragraph({
          children: [new TextRun({ text: block.text })],
          shading: { type: ShadingType.CLEAR, fill: "fff4e5" },
          border: { left: { style: BorderStyle.SINGLE, size: 24, color: "7a3b00", space: 6 } },
        }),
      ];
    case "chart-block":
      return chartParts(block.chart);
    case "table":
      return tableParts(block, wording);
  }
}

/** Width of the text on the page, in pixels of a picture. */
const textWidth = 650;

/** The tallest picture that still leaves room for its caption. */
const textHeight = 860;

function chartParts(chart: Chart): Part[] {
  const { bytes, width, height } = renderPng(renderSvg(chart.spec), 2);
  const shown = Math.min(textWidth, width / 2, (textHeight * width) / height);
  const title = String((chart.spec["title"] as { text?: string } | undefined)?.text ?? "Chart");
  return [
    new Paragraph({
      keepNext: true,
      children: [
        new ImageRun({
          type: "png",
          data: bytes,
          transformation: {
            width: Math.round(shown),
            height: Math.round((shown * height) / width),
          },
          altText: { name: title, title, description: chart.alt },
        }),
      ],
    }),
    new Paragraph({ children: [new TextRun({ text: chart.caption, italics: true, size: 18 })] }),
  ];
}

function tableParts(table: Table, wording: Wording | undefined): Part[] {
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
          children: [new TextRun({ text: words, bold, size: table.columns.length > 7 ? 14 : 17 })],
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
          return cell(`${cellText(value, column)}${mark}`, at, at === 0);
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

/** Width of the text on A4 with the margins above, in twentieths of a point. */
const pageDxa = 10_106;

/**
 * Columns get what their longest word needs, and share the rest by what stands
 * in them, so that no word breaks and long sentences get room.
 */
function columnWidths(table: Table): number[] {
  const perCharacter = table.columns.length > 7 ? 82 : 98;
  const asked = table.columns.map((column, at) => {
    const texts = table.rows.map((row) => cellText(row[at] ?? null, column));
    const lengths = texts.map((each) => each.length).sort((a, b) => a - b);
    const usual = lengths[Math.floor(0.9 * (lengths.length - 1))] ?? 0;
    const head = column.unit ? `${column.title} (${column.unit})` : column.title;
    const word = Math.max(
      ...[head, ...texts].flatMap((each) => each.split(/[\s-]/).map((w) => w.length)),
    );
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
