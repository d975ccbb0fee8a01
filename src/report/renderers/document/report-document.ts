import {
  BorderStyle,
  Document,
  Footer,
  HeadingLevel,
  ImageRun,
  Packer,
  PageNumber,
  Paragraph,
  ShadingType,
  TextRun,
  type Table as WordTable,
} from "docx";
import { type Chart, chartTitle } from "../../../charts/chart.js";
import { noticeText } from "../../../core/catalogue.js";
import type { Wording } from "../../../core/wording.js";
import { typeset, withYearOnce, yearIn } from "../../../units/typeset.js";
import type { Block, LeadBlock, Section } from "../../section/section.js";
import { strengthWords } from "../../section/strength-words.js";
import { chartPng } from "../chart-svg.js";
import { fixedZip } from "../fixed-zip.js";
import { tableParts } from "./document-table.js";

export interface DocumentInput {
  readonly title: string;
  readonly under: string;
  readonly foot: string;
  /** YYYY-MM-DD; stands in the file instead of the clock. */
  readonly date: string;
  readonly sections: readonly Section[];
  readonly wording?: Wording;
  /** The year of the day, which stands once. */
  readonly year?: string;
}

/** How sentences are written, and the year that stands already. */
interface Setting {
  readonly wording: Wording | undefined;
  readonly set: (words: string) => string;
}

/**
 * A report as a Word document: headings that Word can list, tables with
 * repeated head rows, charts as pictures with a text for screen readers. The
 * same input gives the same bytes.
 */
export async function reportDocument(input: DocumentInput): Promise<Uint8Array> {
  const { year } = input;
  const under = year === undefined ? input.under : withYearOnce([input.under], year)[0]!;
  const stands = year !== undefined && yearIn(under, year);
  const setting: Setting = {
    wording: input.wording,
    set: (words) => typeset(words, stands ? year : undefined),
  };
  const children = [
    new Paragraph({ text: input.title, heading: HeadingLevel.TITLE }),
    new Paragraph({ children: [new TextRun({ text: typeset(under), color: "4a5560" })] }),
    ...input.sections.flatMap((each) => sectionParts(each, 1, setting)),
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
                  new TextRun({ text: `${setting.set(input.foot)}  `, size: 15, color: "4a5560" }),
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

function sectionParts(section: Section, level: number, setting: Setting): Part[] {
  return [
    new Paragraph({
      text: section.heading,
      heading: headings[Math.min(level, 3) - 1]!,
      keepNext: true,
    }),
    ...section.blocks.flatMap((block) => blockParts(block, setting)),
    ...(section.sections ?? []).flatMap((each) => sectionParts(each, level + 1, setting)),
  ];
}

function blockParts(block: Block, setting: Setting): Part[] {
  switch (block.kind) {
    case "text":
      return block.text
        .split(/\n\s*\n/)
        .filter((part) => part.trim() !== "")
        .map((part) => new Paragraph({ text: setting.set(part.trim()) }));
    case "list":
      return block.items.map(
        (item) => new Paragraph({ text: setting.set(item), bullet: { level: 0 } }),
      );
    case "notices":
      return block.notices.map(
        (each) =>
          new Paragraph({
            text: setting.set(noticeText(each, setting.wording)),
            bullet: { level: 0 },
          }),
      );
    case "caution":
      return [
        new Paragraph({
          children: [new TextRun({ text: setting.set(block.text) })],
          shading: { type: ShadingType.CLEAR, fill: "fff4e5" },
          border: { left: { style: BorderStyle.SINGLE, size: 24, color: "7a3b00", space: 6 } },
        }),
      ];
    case "chart-block":
      return chartParts(block.chart, setting);
    case "lead":
      return leadParts(block, setting);
    case "questions":
      return block.answers.flatMap((a) => [
        new Paragraph({
          keepNext: true,
          children: [new TextRun({ text: setting.set(a.question), bold: true })],
        }),
        new Paragraph({
          children: [
            new TextRun({ text: `${setting.set(a.answer)} ` }),
            new TextRun({ text: strengthWords(a.strength), color: "4a5560" }),
          ],
        }),
      ]);
    case "fold":
      return [
        new Paragraph({ text: block.title, heading: HeadingLevel.HEADING_3, keepNext: true }),
        ...block.blocks.flatMap((each) => blockParts(each, setting)),
      ];
    case "table":
      return tableParts(block, setting.wording, setting.set);
  }
}

function leadParts(block: LeadBlock, setting: Setting): Part[] {
  const line = (text: string, more: { bold?: boolean; size?: number } = {}) =>
    new Paragraph({
      keepNext: true,
      children: [new TextRun({ text: setting.set(text), ...more })],
    });
  return [
    ...(block.where.length === 0 ? [] : [line(block.where.join("  ·  "), { size: 18 })]),
    line(block.headline, { bold: true, size: 30 }),
    ...(block.under === null ? [] : [line(block.under)]),
    ...(block.also ?? []).map((each) => line(each)),
  ];
}

/** Width of the text on the page, in pixels of a picture. */
const textWidth = 650;

/** The tallest picture that still leaves room for its caption. */
const textHeight = 860;

function chartParts(chart: Chart, setting: Setting): Part[] {
  const { bytes, width, height } = chartPng(chart);
  const shown = Math.min(textWidth, width / 2, (textHeight * width) / height);
  const title = chartTitle(chart);
  return [
    new Paragraph({
      keepNext: true,
      spacing: { before: 200 },
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
    new Paragraph({
      children: [new TextRun({ text: setting.set(chart.caption), italics: true, size: 18 })],
    }),
  ];
}
