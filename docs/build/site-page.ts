import { pageFont } from "../../src/publish/page-font.js";
import { libraryVersion } from "../../src/publish/version.js";
import { escapeHtml } from "../../src/report/renderers/page/escape.js";
import { leadStyle } from "../../src/report/renderers/page/lead-style.js";
import { type PageFrame, pageFrame } from "../../src/report/renderers/page/page-frame.js";
import { contents, inOrder, partOf } from "./contents.js";
import type { Drawn } from "./draw-markdown.js";
import { siteStyle } from "./site-style.js";

/** Every page of the site by name, with its title. */
export type Titles = ReadonlyMap<string, string>;

/** A page of the site: the text, the list of all pages beside it, the ways back and on. */
export function sitePage(
  name: string,
  body: string,
  titles: Titles,
  script?: PageFrame["script"],
): string {
  const title = titles.get(name) ?? "Search";
  return pageFrame({
    title: name === "index" ? "gramline: how to use it" : `${title} | gramline`,
    body: `${body}\n${stepHtml(name, titles)}`,
    around: {
      before: `<header class="top screen-only"><a class="home" href="index.html">gramline</a> <a href="search.html">Search</a> <a class="to-pages" href="#pages">All pages</a></header>\n`,
      after: pagesHtml(name, titles),
    },
    foot: `gramline ${libraryVersion()}. It advises; the attending veterinarian, permits and local rules decide. Every animal shown is invented.`,
    style: `${leadStyle}${siteStyle}${pageFont()}`,
    ...(script === undefined ? {} : { script }),
  });
}

/** What stands on this page, where it has many headings. */
export function onPageHtml(headings: Drawn["headings"]): string {
  const second = headings.filter((each) => each.level === 2);
  if (second.length < 4) return "";
  const items = second
    .map((each) => `<li><a href="#${each.anchor}">${escapeHtml(each.text)}</a></li>`)
    .join("");
  return `<nav class="on-page" aria-label="On this page"><details><summary>On this page</summary><ul>${items}</ul></details></nav>`;
}

const link = (name: string, titles: Titles, current = "") =>
  `<a href="${name}.html"${name === current ? ' aria-current="page"' : ""}>${escapeHtml(titles.get(name) ?? name)}</a>`;

function pagesHtml(current: string, titles: Titles): string {
  const names = inOrder([...titles.keys()]).filter((name) => !name.startsWith("api-"));
  const parts = contents.map(({ title }, part) => {
    const items = names
      .filter((name) => partOf(name) === part)
      .map(
        (name) => `<li>${link(name, titles, current.startsWith("api-") ? "api" : current)}</li>`,
      );
    return items.length === 0 ? "" : `<h2>${escapeHtml(title)}</h2><ul>${items.join("")}</ul>`;
  });
  return `<nav class="pages screen-only" id="pages" aria-label="All pages">${parts.join("")}</nav>\n`;
}

function stepHtml(name: string, titles: Titles): string {
  const names = inOrder([...titles.keys()]);
  const at = names.indexOf(name);
  if (at < 0) return "";
  const [before, after] = [names[at - 1], names[at + 1]];
  const step = (to: string | undefined, words: string) =>
    to === undefined ? "<span></span>" : `<span>${words}: ${link(to, titles)}</span>`;
  return `<nav class="step screen-only" aria-label="Before and after">${step(before, "Before")}${step(after, "Next")}</nav>`;
}
