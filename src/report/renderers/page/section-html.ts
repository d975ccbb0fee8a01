import { type Chart, chartTitle } from "../../../charts/chart.js";
import { themed } from "../../../charts/theme.js";
import { noticeText } from "../../../core/catalogue.js";
import type { Wording } from "../../../core/wording.js";
import { screenWording } from "../../../units/format.js";
import { typeset } from "../../../units/typeset.js";
import { cellReason, cellText, isNumberColumn } from "../../section/cell-text.js";
import { intervalParts } from "../../section/interval-parts.js";
import { pictureNumbers } from "../../section/picture-numbers.js";
import type { Block, FoldBlock, LeadBlock, Section, Table } from "../../section/section.js";
import { drawnAt } from "../chart-svg.js";
import { escapeHtml, htmlText } from "./escape.js";
import { leadHtml, questionsHtml } from "./lead-html.js";
import { linkedPicture, marksWithTitles } from "./linked-picture.js";
import { pictureBox } from "./picture-box.js";
import { sanitise } from "./sanitise.js";

export interface SectionHtmlOptions {
  /** Heading level of the outermost section. Default 2. */
  readonly level?: number;
  /** Prefix that keeps ids on one page apart. */
  readonly idPrefix?: string;
  /** How numbers and times inside sentences are written. */
  readonly wording?: Wording;
  /** The year that stands in the page's first line; its dates go without it. */
  readonly year?: string;
  /** That year stands before the first section: a headline's own line goes without it, too. */
  readonly yearStands?: boolean;
  /** Where the page of an animal is; names and marks of pictures lead there. */
  readonly hrefOf?: (animalId: string) => string | null;
  /** Let the page's own script read the values of pictures. */
  readonly interactive?: boolean;
}

/** A section and all inside it as HTML that needs nothing else. */
export function sectionHtml(section: Section, options: SectionHtmlOptions = {}): string {
  const level = Math.min(options.level ?? 2, 6);
  const id = `${options.idPrefix ?? ""}${section.id ?? anchorOf(section.heading)}`;
  const blocks = section.blocks
    .map((block, at) => blockHtml(block, `${id}-${at}-`, options))
    .join("\n");
  const inner = (section.sections ?? [])
    .map((each) => sectionHtml(each, { ...options, level: level + 1, idPrefix: `${id}-` }))
    .join("\n");
  if (section.look === "first screen")
    return `<section id="${escapeHtml(id)}" class="first-screen">\n${blocks}\n${inner}</section>`;
  return `<section id="${escapeHtml(id)}">\n<h${level}>${htmlText(section.heading, options.year)}</h${level}>\n${blocks}\n${inner}</section>`;
}

/** One block as HTML; `id` must differ between the blocks of a page. */
export function blockHtml(block: Block, id: string, options: SectionHtmlOptions = {}): string {
  const { wording = screenWording(), year } = options;
  switch (block.kind) {
    case "text":
      return block.href === undefined
        ? paragraphs(block.text, year)
        : `<p><a href="${escapeHtml(block.href)}">${htmlText(block.text, year)}</a></p>`;
    case "list":
      return `<ul>${block.items.map((item) => `<li>${htmlText(item, year)}</li>`).join("")}</ul>`;
    case "caution":
      return `<div class="caution" role="note">${paragraphs(block.text, year)}</div>`;
    case "chart-block":
      return chartHtml(block.chart, id, options);
    case "notices":
      return block.notices.length === 0
        ? ""
        : `<ul>${block.notices.map((each) => `<li>${htmlText(noticeText(each, wording), year)}</li>`).join("")}</ul>`;
    case "lead":
      return leadHtml(options.yearStands ? withoutYear(block, year) : block, year);
    case "questions":
      return questionsHtml(block, year);
    case "fold":
      return foldHtml(block, id, options);
    case "table":
      return tableHtml(block, options);
  }
}

/** What stands behind an answer, closed until somebody asks. */
function foldHtml(block: FoldBlock, id: string, options: SectionHtmlOptions): string {
  const inner = block.blocks.map((each, i) => blockHtml(each, `${id}f${i}-`, options)).join("\n");
  const about = block.about === null ? "" : ` <span>${escapeHtml(block.about)}</span>`;
  return `<details class="fold"><summary>${escapeHtml(block.title)}${about}</summary>\n${inner}\n</details>`;
}

/** A table with a caption, column heads that scroll with it, and reasons under it. */
export function tableHtml(table: Table, options: SectionHtmlOptions = {}): string {
  const { wording = screenWording(), year } = options;
  if (table.rows.length === 0) {
    return `<p>${htmlText(table.whenEmpty ?? `${table.caption}: no rows.`, year)}</p>`;
  }
  const numbers = table.columns.map((column, at) => isNumberColumn(column, table.rows, at));
  const cards = isCards(table);
  // A table whose rows become blocks is one no longer, unless it says so itself.
  const role = (name: string) => (cards ? ` role="${name}"` : "");
  const kind = (at: number) => (numbers[at] ? ' class="number"' : "");
  const heads = table.columns
    .map((column, at) => {
      const unit = column.unit ? ` (${escapeHtml(column.unit)})` : "";
      return `<th scope="col"${role("columnheader")}${kind(at)}>${htmlText(column.title, year)}${unit}</th>`;
    })
    .join("");
  const reasons: string[] = [];
  const body = table.rows
    .map((row) => {
      const cells = table.columns.map((column, at) => {
        const cell = row[at] ?? null;
        const reason = cellReason(cell, wording);
        let mark = "";
        if (reason !== null) {
          if (!reasons.includes(reason)) reasons.push(reason);
          const note = reasons.indexOf(reason) + 1;
          mark = `<sup role="note" aria-label="note ${note}">${note}</sup>`;
        }
        const plain = cellText(cell, column);
        const words = `${together(htmlText(plain, year))}${mark}`;
        const length = plain.length <= 22 ? "short" : intervalParts(plain) !== null ? "" : "long";
        const look = [numbers[at] ? "number" : "", length].filter((each) => each !== "").join(" ");
        const named = cards ? ` data-name="${escapeHtml(column.title)}"` : "";
        const attribute = `${look === "" ? "" : ` class="${look}"`}${named}`;
        // A row goes on under the heading above it: an empty heading would name nothing.
        return at === 0 && plain !== ""
          ? `<th scope="row"${role("rowheader")}${attribute}>${words}</th>`
          : `<td${role("cell")}${attribute}>${words}</td>`;
      });
      return `<tr${role("row")}>${cells.join("")}</tr>`;
    })
    .join("\n");
  const foot =
    reasons.length === 0
      ? ""
      : `<ol class="reasons">${reasons.map((each) => `<li>${htmlText(each, year)}</li>`).join("")}</ol>`;
  return `<div class="scroll" tabindex="0" role="region" aria-label="${escapeHtml(table.caption)}"><table${cards ? ' class="cards" role="table"' : widthClass(table)}><caption>${htmlText(table.caption, year)}</caption><thead${role("rowgroup")}><tr${role("row")}>${heads}</tr></thead><tbody${role("rowgroup")}>\n${body}\n</tbody></table></div>${foot}`;
}

/** Rows with whole sentences in them become cards on a narrow screen, where a wide table hides the sentence. */
function isCards({ columns, rows }: Table): boolean {
  const sentences = rows.some((row) => row.some((c) => typeof c === "string" && c.length > 60));
  return columns.length > 3 && columns.length < 7 && rows.length <= 20 && sentences;
}

/** More columns than these are set small on paper, where nothing scrolls. */
const mostColumns = 9;
/** Letters that fit side by side at 6.5 and at 5.5 points between the margins of A4 and Letter. */
const fitSmall = 125;
const fitSmallest = 150;

/** On paper no word breaks while the longest words of all columns fit side by side. */
function widthClass(table: Table): string {
  if (table.columns.length <= mostColumns) return "";
  const letters = table.columns.reduce((sum, column, at) => {
    const words = [
      `${column.title} ${column.unit ?? ""}`,
      ...table.rows.map((r) => cellText(r[at] ?? null, column)),
    ].flatMap((each) => each.split(/[ -]/));
    return sum + Math.max(...words.map((w) => w.length)) + 1;
  }, 0);
  const look = letters > fitSmallest ? " dense breaks" : letters > fitSmall ? " dense" : "";
  return ` class="many${look}"`;
}

/**
 * A chart as a figure in the page's colours: drawn for wide and for narrow
 * screens, announced by its sentence, with its caption, its numbers folded away,
 * and, where its values can be asked for, one line that reads them.
 */
export function chartHtml(chart: Chart, id: string, options: SectionHtmlOptions = {}): string {
  const { interactive = false, year } = options;
  const reading = interactive ? (chart.reading ?? []) : [];
  const asked = reading.length > 1;
  const drawings = (["wide", "narrow"] as const).map((kind) => ({ kind, ...drawnAt(chart, kind) }));
  const boxes = drawings.map(({ kind, svg }) =>
    pictureBox(
      marksWithTitles(
        linkedPicture(safePicture(svg, `${id}${kind[0]}-`), chart.animals, options.hrefOf),
      ),
      chartTitle(chart),
      { kind, asked },
    ),
  );
  const words = reading.map((each) => typeset(each.words, year));
  // In a data block only "<" could end the block early.
  const data = asked
    ? `<script type="application/json">${JSON.stringify({ words, places: drawings.map((d) => d.places) }).replaceAll("<", "\\u003c")}</script>`
    : "";
  const line = asked
    ? `<p class="reading screen-only" aria-live="polite">${escapeHtml(words.at(-1)!)}</p>`
    : "";
  return (
    `<figure${asked ? " data-reading" : ""}>${line}${boxes.join("")}` +
    `<figcaption>${htmlText(chart.caption, year)}</figcaption>${numbersHtml(chart, options)}${data}</figure>`
  );
}

/** Drawn markup as it stands on a page: safe, in the page's colours, one picture with one name and no parts that ask for their own. */
export function pictureHtml(svg: string, idPrefix: string): string {
  return marksWithTitles(safePicture(svg, idPrefix));
}

/** The same, its marks still named as they were drawn: by their names some become links. */
function safePicture(svg: string, idPrefix: string): string {
  return themed(sanitise(svg, idPrefix))
    .replace(/ (?:role="graphics-[a-z]+"|aria-roledescription="[^"]*")/g, "")
    .replace(/(<g\b[^>]*) aria-label="[^"]*"/g, "$1");
}

/** The plotted numbers for whoever cannot see the picture; long ones are in the sheets. */
function numbersHtml(chart: Chart, options: SectionHtmlOptions): string {
  const { rows } = chart;
  if (rows === undefined || rows.length === 0 || rows.length > 200) return "";
  const title = `The numbers in the picture: ${chartTitle(chart)}`;
  const numbers = pictureNumbers(chart, title);
  return `<details class="screen-only"><summary>Numbers in this picture</summary>${tableHtml(numbers, options).replace("<caption>", '<caption class="unseen">')}</details>`;
}

/** Dates, names with hyphens, and intervals must not break inside. */
function together(safe: string): string {
  const interval = intervalParts(safe);
  if (interval !== null)
    return interval.map((part) => `<span class="together">${part}</span>`).join(" ");
  // Begun at the begin of a word alone: a long word is gone through once, not from each letter.
  return safe.replace(
    /(?<![\p{L}\p{N}_])(?:to )?[\p{L}\p{N}_]+(?:-[\p{L}\p{N}_]+)+(?: \d\d:\d\d)?/gu,
    (whole) => (whole.length > 24 ? whole : `<span class="together">${whole}</span>`),
  );
}

/** A headline whose first line leaves the year to what stands before it. */
const withoutYear = (block: LeadBlock, year?: string): LeadBlock => ({
  ...block,
  where: block.where.map((words) => typeset(words, year)),
});

function paragraphs(words: string, year?: string): string {
  return words
    .split(/\n\s*\n/)
    .filter((part) => part.trim() !== "")
    .map((part) => `<p>${htmlText(part.trim(), year)}</p>`)
    .join("\n");
}

/** "Growth and gain" -> "growth-and-gain". */
export function anchorOf(heading: string): string {
  const words = heading
    .toLowerCase()
    .normalize("NFKD")
    .replace(/[^\p{L}\p{N}]+/gu, "-")
    .replace(/^-+|-+$/g, "");
  return words === "" ? "section" : words;
}
