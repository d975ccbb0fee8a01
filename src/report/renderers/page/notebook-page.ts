import type { Chart } from "../../../charts/chart.js";
import type { PageLink } from "../../section/page-link.js";
import {
  chartMime,
  joinedText,
  type MimeBundle,
  type NotebookCell,
  type NotebookFile,
  type NotebookOutput,
} from "../notebook-file.js";
import { escapeHtml } from "./escape.js";
import { leadStyle } from "./lead-style.js";
import { markdownToHtml } from "./markdown.js";
import { type PageFrame, pageFrame } from "./page-frame.js";
import { pictureBox } from "./picture-box.js";
import { sanitise } from "./sanitise.js";
import { chartHtml, pictureHtml, type SectionHtmlOptions } from "./section-html.js";

/**
 * An executed notebook as one page: text, pictures and tables in order, the
 * code folded away under each, the way home above.
 */
export function notebookPage(
  notebook: NotebookFile,
  name: string,
  foot: string,
  style = "",
  home: PageLink | null = null,
  script?: PageFrame["script"],
): string {
  const year = yearOf(notebook);
  const options = { interactive: script !== undefined, ...(year === undefined ? {} : { year }) };
  const body = notebook.cells.map((cell, index) => cellHtml(cell, index, options)).join("\n");
  return pageFrame({
    title: notebookTitle(notebook, name),
    body: home === null ? body : `${homeHtml(home)}\n${body}`,
    foot,
    style: `${leadStyle}${style}`,
    ...(script === undefined ? {} : { script }),
  });
}

const homeHtml = (to: PageLink) =>
  `<p class="screen-only where"><a href="${escapeHtml(to.href)}">${escapeHtml(to.text)}</a></p>`;

/** The first heading of a notebook, or its name. */
export function notebookTitle(notebook: NotebookFile, name: string): string {
  for (const cell of notebook.cells) {
    if (cell.cell_type !== "markdown") continue;
    const heading = /^#\s+(.+)$/m.exec(joinedText(cell.source));
    if (heading) return heading[1]!.trim();
  }
  return name;
}

function cellHtml(cell: NotebookCell, index: number, options: SectionHtmlOptions): string {
  const source = joinedText(cell.source);
  if (cell.cell_type === "markdown") return sectionOf(markdownToHtml(source));
  if (cell.cell_type === "raw") return "";
  const outputs = (cell.outputs ?? []).map((output, at) =>
    outputHtml(output, `c${index}o${at}-`, options),
  );
  const number = cell.execution_count ?? "";
  const code =
    source.trim() === ""
      ? ""
      : `<details class="code"><summary>Code ${number}</summary><pre><code>${escapeHtml(source)}</code></pre></details>`;
  const shown = outputs.join("\n");
  // An answer, its picture and the reader's questions stand beside each other.
  return outputs.some((html) => html.startsWith(questionsBegin))
    ? `${code}\n<section class="first-screen">${shown}</section>`
    : `${code}\n${shown}`;
}

const questionsBegin = '<div class="questions">';
const leadBegin = '<p class="where">';

/** The year in the first line of the first answer: every other date of the page goes without it. */
function yearOf(notebook: NotebookFile): string | undefined {
  for (const { outputs = [] } of notebook.cells) {
    for (const output of outputs) {
      const html = "data" in output ? output.data["text/html"] : undefined;
      const where = /<p class="where">.*?<\/p>/s.exec(joinedText(html as string | undefined))?.[0];
      const year = /\d{1,2}\s\p{L}{3}\s(\d{4})/u.exec(where ?? "")?.[1];
      if (year !== undefined) return year;
    }
  }
  return undefined;
}

/** Safe HTML whose dates go without the page's year, but for the first line of an answer. */
function withoutYear(html: string, year: string | undefined): string {
  if (year === undefined) return html;
  // Set already: what stands between day, month and year may be unbreakable.
  const dated = new RegExp(`(\\b\\d{1,2}[ \\u00a0]\\p{Lu}\\p{Ll}{2})[ \\u00a0]${year}\\b`, "gu");
  return html
    .split(/(<p class="where">.*?<\/p>|<[^>]*>)/s)
    .map((part, i) => (i % 2 === 1 ? part : part.replace(dated, "$1")))
    .join("");
}

/** A caution in a notebook is a quote that begins with the word in bold. */
function sectionOf(html: string): string {
  return html.replace(
    /<blockquote>\s*(<p><strong>(?:Caution|Not a diagnosis)[\s\S]*?)<\/blockquote>/g,
    '<div class="caution" role="note">$1</div>',
  );
}

const isChart = (x: unknown): x is Chart =>
  typeof x === "object" && x !== null && "spec" in x && "alt" in x && "caption" in x;

function outputHtml(output: NotebookOutput, idPrefix: string, options: SectionHtmlOptions): string {
  switch (output.output_type) {
    case "stream":
      return `<pre${output.name === "stderr" ? ' class="problem"' : ""}>${escapeHtml(joinedText(output.text))}</pre>`;
    case "error":
      return `<pre class="problem">${escapeHtml(`${output.ename}: ${output.evalue}`)}</pre>`;
    default:
      return bundleHtml(output.data, idPrefix, options);
  }
}

function bundleHtml(data: MimeBundle, idPrefix: string, options: SectionHtmlOptions): string {
  const chart = data[chartMime];
  if (isChart(chart)) return chartHtml(chart, idPrefix, options);
  const text = (type: string) => {
    const value = data[type];
    return typeof value === "string" || Array.isArray(value) ? joinedText(value) : undefined;
  };
  const html = text("text/html");
  const svg = text("image/svg+xml");
  const png = text("image/png");
  const markdown = text("text/markdown");
  const plain = text("text/plain");
  if (svg !== undefined) {
    const caption = plain === undefined ? "" : `<figcaption>${escapeHtml(plain)}</figcaption>`;
    return `<figure>${pictureBox(pictureHtml(svg, idPrefix), "Picture")}${caption}</figure>`;
  }
  if (html !== undefined) {
    const safe = withoutYear(sanitise(html), options.year);
    const answer = safe.startsWith(questionsBegin) || safe.startsWith(leadBegin);
    return answer ? safe : `<div class="scroll">${safe}</div>`;
  }
  if (png !== undefined && /^[A-Za-z0-9+/=\s]+$/.test(png)) {
    return `<figure>${pictureBox(`<img alt="${escapeHtml(plain ?? "")}" src="data:image/png;base64,${png.replace(/\s/g, "")}">`, "Picture")}</figure>`;
  }
  if (markdown !== undefined) return markdownToHtml(markdown);
  return plain === undefined ? "" : `<pre>${escapeHtml(plain)}</pre>`;
}
