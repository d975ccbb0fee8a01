import type { PageLink } from "../../section/page-link.js";
import {
  joinedText,
  type MimeBundle,
  type NotebookCell,
  type NotebookFile,
  type NotebookOutput,
} from "../notebook-file.js";
import { escapeHtml } from "./escape.js";
import { leadStyle } from "./lead-style.js";
import { markdownToHtml } from "./markdown.js";
import { pageFrame } from "./page-frame.js";
import { pictureBox } from "./picture-box.js";
import { sanitise } from "./sanitise.js";
import { pictureHtml } from "./section-html.js";

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
): string {
  const body = notebook.cells.map((cell, index) => cellHtml(cell, index)).join("\n");
  return pageFrame({
    title: notebookTitle(notebook, name),
    body: home === null ? body : `${homeHtml(home)}\n${body}`,
    foot,
    style: `${leadStyle}${style}`,
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

function cellHtml(cell: NotebookCell, index: number): string {
  const source = joinedText(cell.source);
  if (cell.cell_type === "markdown") return sectionOf(markdownToHtml(source));
  if (cell.cell_type === "raw") return "";
  const outputs = (cell.outputs ?? []).map((output, at) => outputHtml(output, `c${index}o${at}-`));
  const number = cell.execution_count ?? "";
  const code =
    source.trim() === ""
      ? ""
      : `<details class="code"><summary>Code ${number}</summary><pre><code>${escapeHtml(source)}</code></pre></details>`;
  return `${code}\n${outputs.join("\n")}`;
}

/** A caution in a notebook is a quote that begins with the word in bold. */
function sectionOf(html: string): string {
  return html.replace(
    /<blockquote>\s*(<p><strong>(?:Caution|Not a diagnosis)[\s\S]*?)<\/blockquote>/g,
    '<div class="caution" role="note">$1</div>',
  );
}

function outputHtml(output: NotebookOutput, idPrefix: string): string {
  switch (output.output_type) {
    case "stream":
      return `<pre${output.name === "stderr" ? ' class="problem"' : ""}>${escapeHtml(joinedText(output.text))}</pre>`;
    case "error":
      return `<pre class="problem">${escapeHtml(`${output.ename}: ${output.evalue}`)}</pre>`;
    default:
      return bundleHtml(output.data, idPrefix);
  }
}

function bundleHtml(data: MimeBundle, idPrefix: string): string {
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
  if (html !== undefined) return `<div class="scroll">${sanitise(html)}</div>`;
  if (png !== undefined && /^[A-Za-z0-9+/=\s]+$/.test(png)) {
    return `<figure>${pictureBox(`<img alt="${escapeHtml(plain ?? "")}" src="data:image/png;base64,${png.replace(/\s/g, "")}">`, "Picture")}</figure>`;
  }
  if (markdown !== undefined) return markdownToHtml(markdown);
  return plain === undefined ? "" : `<pre>${escapeHtml(plain)}</pre>`;
}
