import { describe, expect, it } from "vitest";
import { notDefined } from "../../src/core/measured.js";
import { notice } from "../../src/core/notice.js";
import { markdownToHtml } from "../../src/report/renderers/page/markdown.js";
import { reportPage } from "../../src/report/renderers/page/report-page.js";
import { sectionHtml, tableHtml } from "../../src/report/renderers/page/section-html.js";
import { sectionText } from "../../src/report/section/plain-text.js";
import {
  caution,
  chartBlock,
  list,
  section,
  table,
  text,
} from "../../src/report/section/section.js";
import { full } from "../charts/sample-charts.js";

const masses = table(
  "masses",
  "Masses",
  [{ title: "Animal" }, { title: "Mass", unit: "g", align: "number" }],
  [
    ["<Mica> & Co", 12345.6],
    ["Fern", notDefined("g", notice("series-no-weighings", "problem", { animal: "Fern" }))],
    ["海獭", null],
  ],
);
const whole = section("Growth & gain", [
  text("One.\n\nTwo <b>."),
  list(["a", "b"]),
  caution("No diagnosis."),
  masses,
  chartBlock(full["gain"]!),
]);

describe("the numbers beside a picture", () => {
  it("give places in time as days and hours, not in milliseconds", () => {
    // 15 Oct 2026 08:00 on the study's clock, as pictures hold it (ECMA-262, 21.4.1.1).
    const at = Date.UTC(2026, 9, 15, 8);
    const chart = { ...full["gain"]!, rows: [{ at, value: 12380 }] };
    const html = sectionHtml(section("Mass", [chartBlock(chart)]));
    expect(html).toContain(
      "15 Oct 2026 08:00".replaceAll(" ", html.includes("15 Oct") ? " " : "\u00a0"),
    );
    expect(html).not.toMatch(/1\D?792\D?051\D?200\D?000/);
    expect(html).toMatch(/12\D?380/);
  });
});

describe("a table on a page", () => {
  const html = tableHtml(masses);

  it("names its columns and rows for screen readers, with units and a caption", () => {
    expect(html).toContain("<caption>Masses</caption>");
    expect(html).toContain('<th scope="col" class="number">Mass (g)</th>');
    expect(html).toMatch(/<th scope="row"[^>]*>/);
    // What scrolls must be reachable by keyboard (WCAG 2.1, 2.1.1) and have a name.
    expect(html).toContain('tabindex="0" role="region" aria-label="Masses"');
  });

  it("escapes names, keeps other scripts, and writes numbers without a thousands comma", () => {
    expect(html).toContain("&#60;Mica&#62; &#38; Co");
    expect(html).toContain("海獭");
    expect(html).toContain("12\u202f346");
  });

  it("gives the reason of an undefined number under the table, not an empty cell", () => {
    expect(html).toMatch(/–<sup role="note" aria-label="note 1">1<\/sup>/);
    expect(html).toMatch(/<ol class="reasons"><li>.+<\/li><\/ol>/);
  });

  it("without rows says so", () => {
    expect(tableHtml({ ...masses, rows: [], whenEmpty: "No animal <yet>." })).toBe(
      "<p>No animal &#60;yet&#62;.</p>",
    );
  });
});

describe("a page", () => {
  const page = reportPage({
    title: "A study <i>",
    under: "Report",
    foot: "Foot",
    sections: [whole, section("Other", [])],
  });

  it("needs nothing else: no script, no address to fetch, a policy that forbids both", () => {
    expect(page).toContain("default-src 'none'");
    expect(page).not.toMatch(/<script|<link|<img[^>]+src="(?!data:)|url\((?!#|data:)/i);
    // The only addresses are names of XML vocabularies.
    const addresses = [...page.matchAll(/https?:\/\/[^"'\s<]+/g)].map((m) => m[0]);
    expect(addresses.filter((a) => !a.startsWith("http://www.w3.org/"))).toEqual([]);
  });

  it("has a language, one first heading, a skip link and a contents list whose links lead somewhere", () => {
    expect(page).toMatch(/<html lang="en">/);
    expect(page.match(/<h1>/g)).toHaveLength(1);
    expect(page).toContain('<a class="skip" href="#content">');
    for (const [, id] of page.matchAll(/href="#([^"]+)"/g)) {
      expect(page.includes(`id="${id}"`), id).toBe(true);
    }
  });

  it("uses no id twice", () => {
    const ids = [...page.matchAll(/\sid="([^"]+)"/g)].map((m) => m[1]);
    expect(new Set(ids).size).toBe(ids.length);
  });

  it("announces a chart by its sentence", () => {
    expect(page).toMatch(/<svg role="img" aria-label="Gain of Mica/);
  });
});

describe("markdown", () => {
  it("shows raw HTML as text and drops links that run code", () => {
    expect(markdownToHtml("<script>x</script> **b**")).toBe(
      "<p>&lt;script&gt;x&lt;/script&gt; <strong>b</strong></p>\n",
    );
    expect(markdownToHtml("[x](javascript:alert(1))")).not.toContain("href");
  });

  it("renders the examples of the CommonMark specification that notebooks use", () => {
    // CommonMark 0.31.2: examples 62 (headings), 350 (emphasis), 281 (list), 482 (link).
    expect(markdownToHtml("## foo")).toBe("<h2>foo</h2>\n");
    expect(markdownToHtml("*foo bar*")).toBe("<p><em>foo bar</em></p>\n");
    expect(markdownToHtml("- foo\n- bar")).toBe("<ul>\n<li>foo</li>\n<li>bar</li>\n</ul>\n");
    expect(markdownToHtml("[link](/uri)")).toBe('<p><a href="/uri">link</a></p>\n');
  });
});

describe("a section as text", () => {
  it("keeps every part", () => {
    const words = sectionText(whole);
    for (const part of [
      "# Growth & gain",
      "Two <b>.",
      "- a",
      "Caution: No diagnosis.",
      "Mass (g)",
    ]) {
      expect(words).toContain(part);
    }
  });

  it("is the same inside a page, tag by tag", () => {
    expect(sectionHtml(whole)).toContain("<h2>Growth &#38; gain</h2>");
  });
});
