import { existsSync, readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import MarkdownIt from "markdown-it";
import { describe, expect, it } from "vitest";
import { buildSite } from "../../docs/build/build-site.js";
import { partOf } from "../../docs/build/contents.js";
import { notebookNames } from "../../docs/build/gallery.js";
import { rankScript } from "../../docs/build/search.js";
import { benchResults } from "../../docs/build/validation/bench-results.js";
import { readClaims } from "../../docs/build/validation/claims.js";
import { wrongLinks } from "../../docs/build/wrong-links.js";
import { settingNames } from "../../src/records/settings.js";
import { codeBlocks, papers, root, textOf } from "./papers.js";

/** Files that the site gets besides its pages: `docs/build/make-docs.ts` checks that they are there. */
const beside = [
  ...["day", "hand-over", "feeding-sheet"].map((name) => `demo/${name}.html`),
  ...notebookNames(join(root, "notebooks")).flatMap((name) =>
    ["html", "ipynb"].map((ending) => `gallery/${name}.${ending}`),
  ),
];
const site = buildSite();

describe("the documentation site", () => {
  it("leads only to pages and anchors that are there", () => {
    expect(site.size).toBeGreaterThan(40);
    const files = new Map([...site, ...beside.map((name) => [name, ""] as const)]);
    expect(wrongLinks(files)).toEqual([]);
  });

  it("would notice a page, an anchor or an address that is none", () => {
    const pages = new Map([
      [
        "a.html",
        '<h1 id="x">a</h1><a href="b.html#y">b</a><a href="#z">z</a><a href="c.html">c</a>',
      ],
      ["b.html", '<p id="y"></p><p id="y"></p><a href="http://plain">d</a>'],
    ]);
    expect(wrongLinks(pages)).toEqual([
      "a.html: #z leads to no anchor",
      "a.html: c.html leads to no file",
      "b.html: the anchor y stands twice",
      "b.html: http://plain is no address of the web",
    ]);
  });

  it("stands by itself: no page loads anything, and its policy forbids it", () => {
    for (const [name, html] of site) {
      expect([name, /default-src 'none'/.test(html)]).toEqual([name, true]);
      const loads = html.match(
        /<(?:img|link|iframe|script)\b[^>]*\b(?:src|href)=(?!"data:)[^>]*>/g,
      );
      expect([name, loads]).toEqual([name, null]);
    }
  });

  it("finds a page by its words: headings first, every word needed, accents and capitals alike", () => {
    const rank = new Function(`${rankScript}; return rank;`)() as (
      index: { heading: string; page: string; text: string }[],
      words: string,
    ) => { heading: string }[];
    const passage = (heading: string, text: string) => ({ heading, page: "p", text });
    const index = [
      passage("Gain", "the word flag stands here"),
      passage("False flags", "what a false flag is"),
      passage("Früh", "nothing"),
    ];
    const found = (words: string) => rank(index, words).map((each) => each.heading);
    expect(found("flag")).toEqual(["False flags", "Gain"]);
    expect(found("FALSE flag")).toEqual(["False flags"]);
    expect(found("fruh")).toEqual(["Früh"]);
    expect(found("absent flag")).toEqual([]);
    expect(found("  ")).toEqual([]);
    const all = JSON.parse(
      /id="index">(.*?)<\/script>/s.exec(site.get("search.html")!)![1]!,
    ) as Parameters<typeof rank>[0];
    expect(rank(all, "tare_g").length).toBeGreaterThan(0);
    expect(rank(all, "fitCurve")[0]!.heading).toMatch(/fitCurve/);
  });

  it("has a place for every page, a page not named under How to", () => {
    for (const name of site.keys()) expect(partOf(name.replace(".html", ""))).toBeGreaterThan(-1);
    expect(partOf("something-new")).toBe(partOf("own-records"));
  });
});

describe("the pages made from results", () => {
  it("states every claim with figures, and every committed result", () => {
    const claims = readClaims();
    expect(claims.length).toBeGreaterThan(15);
    for (const { figures } of claims) expect(figures).toMatch(/\d/);
    const text = site.get("validation.html")!;
    for (const { name, date } of benchResults()) {
      expect([name, text.includes(`id="${name}"`)]).toEqual([name, true]);
      expect([name, date]).toEqual([name, expect.stringMatching(/^\d+.[A-Z][a-z]{2}.\d{4}/)]);
    }
  });

  it("explains every setting of study.json", () => {
    const settings = textOf("docs/settings.md");
    expect(settingNames.filter((name) => !settings.includes(`| \`${name}\` |`))).toEqual([]);
  });
});

describe("the links of the papers", () => {
  const md = new MarkdownIt();
  const hrefs = (text: string) =>
    md
      .parse(text, {})
      .flatMap((token) => token.children ?? [])
      .flatMap((token) => {
        const href = token.attrGet("href") ?? token.attrGet("src");
        return href === null ? [] : [href];
      });
  // As code hosts make them: letters and digits kept, blanks to hyphens, all else dropped.
  const anchorsOf = (text: string) =>
    text
      .split("\n")
      .filter((line) => /^#+ /.test(line))
      .map((line) =>
        line
          .replace(/^#+ /, "")
          .toLowerCase()
          .replace(/[^\p{L}\p{N} _-]/gu, "")
          .replaceAll(" ", "-"),
      );

  it.each(papers)("%s leads to files and headings that are there", (paper) => {
    const code = codeBlocks(paper).map((block) => block.text);
    const text = code.reduce((rest, block) => rest.replace(block, ""), textOf(paper));
    const made = (path: string) =>
      dirname(paper) === "docs" &&
      (site.has(path.replace(/\.md$/, ".html")) || beside.includes(path));
    const wrong = hrefs(text).filter((href) => {
      if (/^[a-z]+:/.test(href)) return !/^https:\/\/[\w.-]+\.[a-z]{2,}(\/\S*)?$/.test(href);
      const [path = "", anchor] = href.split("#");
      const at = join(root, dirname(paper), decodeURIComponent(path));
      if (path !== "" && !existsSync(at)) return !made(path);
      if (anchor === undefined || !/(^|\.md)$/.test(path)) return false;
      return !anchorsOf(path === "" ? text : readFileSync(at, "utf8")).includes(anchor);
    });
    expect(wrong).toEqual([]);
  });
});
