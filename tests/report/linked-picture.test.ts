import { describe, expect, it } from "vitest";
import { pageScript } from "../../src/publish/page-script.js";
import { drawnAt } from "../../src/report/renderers/chart-svg.js";
import { chartMime } from "../../src/report/renderers/notebook-file.js";
import { linkedPicture } from "../../src/report/renderers/page/linked-picture.js";
import { notebookPage } from "../../src/report/renderers/page/notebook-page.js";
import { chartHtml } from "../../src/report/renderers/page/section-html.js";
import { empty, full } from "../charts/sample-charts.js";

const hrefOf = (id: string) => (id === "M9" ? null : `animals/${id}.html`);

describe("pictures that lead to animals", () => {
  it("make a link of every plot's name, and a group of the picture", () => {
    const html = chartHtml(full["histories"]!, "p", { hrefOf });
    for (const [id, name] of [
      ["M0", "Mica"],
      ["M3", "Wren"],
    ])
      expect(html).toContain(`<a href="animals/${id}.html" aria-label="${name}"><text`);
    expect(html).toContain('role="group"');
    expect(html).not.toContain('role="img"');
  });

  it("make a link of every dot, named by what it stands for", () => {
    const chart = { ...full["conversion"]!, animals: { Mica: "M0", Fern: "M9" } };
    const html = chartHtml(chart, "p", { hrefOf });
    expect(html).toMatch(
      /<a href="animals\/M0\.html" aria-label="Mica: gains 30 g\/d, keeps 500 kcal\/d"><path/,
    );
    expect(html).toContain("<title>Mica: gains 30 g/d, keeps 500 kcal/d</title>");
    // An animal without a page stays a mark.
    expect(html).not.toContain("M9.html");
  });

  it("hide no link from a screen reader, and go on hiding what holds none", () => {
    const svg =
      '<svg role="img"><g class="a" aria-hidden="true"><g><text>Mica</text></g></g>' +
      '<g class="b" aria-hidden="true"><g><text>40</text></g></g></svg>';
    expect(linkedPicture(svg, { Mica: "M0" }, hrefOf)).toBe(
      '<svg role="group"><g class="a"><g><a href="animals/M0.html" aria-label="Mica"><text>Mica</text></a></g></g>' +
        '<g class="b" aria-hidden="true"><g><text>40</text></g></g></svg>',
    );
  });

  it("stay as they are where no page is known, and escape what a name holds", () => {
    const { svg } = drawnAt(full["histories"]!, "wide");
    expect(linkedPicture(svg, full["histories"]!.animals, undefined)).toBe(svg);
    expect(linkedPicture(svg, undefined, hrefOf)).toBe(svg);
    const html = linkedPicture(
      '<svg role="img"><text>a&#60;b</text></svg>',
      { "a<b": "x" },
      () => '"><script>',
    );
    expect(html).toContain('href="&#34;&#62;&#60;script&#62;"');
    expect(chartHtml(empty["conversion"]!, "p", { hrefOf })).not.toContain("<a href");
  });
});

describe("legends", () => {
  it("stand in no picture", () => {
    for (const [name, chart] of Object.entries({ ...full })) {
      const { config: _, ...spec } = chart.spec;
      expect(JSON.stringify(spec), name).not.toMatch(/"legend":(?!null)/);
      expect(drawnAt(chart, "wide").svg, name).not.toContain("role-legend");
    }
  });
});

describe("the page of a notebook", () => {
  const output = (html: string) => ({
    output_type: "display_data" as const,
    data: { "text/html": html },
    metadata: {},
  });
  const notebook = {
    nbformat: 4,
    nbformat_minor: 5,
    metadata: {},
    cells: [
      {
        cell_type: "code" as const,
        metadata: {},
        source: "show(...page.answer)",
        outputs: [
          output(
            '<p class="where"><b>Mica</b> 2\u00a0May\u00a02025</p><p>since 1\u00a0May\u00a02025</p>',
          ),
          { ...output(""), data: { [chartMime]: full["gain"], "image/svg+xml": "<svg></svg>" } },
          output('<div class="questions"><p>1 May 2025 or 3 May 2024</p></div>'),
        ],
      },
    ],
  };

  it("names the year in the first line alone", () => {
    const html = notebookPage(notebook, "n", "", "", null, pageScript());
    expect(html.match(/May.2025/g)).toHaveLength(1);
    expect(html).toContain("May 2024");
  });

  it("carries the picture as data, to be asked, beside the questions", () => {
    const html = notebookPage(notebook, "n", "", "", null, pageScript());
    expect(html).toContain('<section class="first-screen">');
    expect(html).toContain("<figure data-reading>");
    expect(html).toMatch(/<div class="picture narrow"/);
  });
});
