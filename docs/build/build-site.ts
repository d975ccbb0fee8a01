import { readdirSync, readFileSync } from "node:fs";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { escapeHtml } from "../../src/report/renderers/page/escape.js";
import { pictureHtml } from "../../src/report/renderers/page/section-html.js";
import { inOrder } from "./contents.js";
import { type Drawing, drawMarkdown } from "./draw-markdown.js";
import { type DocPage, titleOf } from "./page.js";
import { referencePages } from "./reference-pages.js";
import { type Found, findable, searchBody, searchScript } from "./search.js";
import { onPageHtml, sitePage } from "./site-page.js";

const docs = fileURLToPath(new URL("..", import.meta.url));

/** What the site takes from elsewhere. */
export interface SiteParts {
  /** HTML for a line `{{name}}`: a piece of a page of the demo. Default: its name. */
  readonly part?: (name: string) => string;
  /** Pages that are made, beside those written in `docs`. */
  readonly made?: readonly DocPage[];
}

/** The pages written by hand. */
export function writtenPages(): DocPage[] {
  return readdirSync(docs)
    .filter((name) => extname(name) === ".md")
    .map((name) => ({
      name: name.replace(/\.md$/, ""),
      markdown: readFileSync(join(docs, name), "utf8"),
    }));
}

/**
 * The whole site: HTML by file name. Every page stands by itself, style, font and
 * pictures inside, and asks nothing of any network.
 */
export function buildSite(parts: SiteParts = {}): Map<string, string> {
  const pages = [...writtenPages(), ...referencePages(), ...(parts.made ?? [])];
  const titles = new Map(pages.map((page) => [page.name, titleOf(page.markdown)]));
  const site = new Map<string, string>();
  const index: Found[] = [];
  let pictures = 0;
  const drawing: Drawing = {
    part: parts.part ?? ((name) => `<p>${escapeHtml(name)}</p>`),
    picture: (path, words) => figure(path, words, `p${pictures++}-`),
  };
  const byName = new Map(pages.map((page) => [page.name, page]));
  for (const name of inOrder([...titles.keys()])) {
    const drawn = drawMarkdown(byName.get(name)!.markdown, drawing);
    const [head, ...rest] = drawn.html.split(/(?<=<\/h1>\n?)/);
    const body = `${head}${onPageHtml(drawn.headings)}${rest.join("")}`;
    site.set(`${name}.html`, sitePage(name, body, titles));
    index.push(...findable(name, titles.get(name)!, drawn.passages));
  }
  site.set("search.html", sitePage("search", searchBody(index), titles, searchScript()));
  return site;
}

/** A committed picture, drawn into the page in the page's colours. */
function figure(path: string, words: string, prefix: string): string {
  const svg = readFileSync(join(docs, path), "utf8");
  return `<figure><div class="picture">${pictureHtml(svg, prefix)}</div><figcaption>${escapeHtml(words)}</figcaption></figure>`;
}
