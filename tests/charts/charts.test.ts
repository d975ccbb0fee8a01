import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { contemporariesChart } from "../../src/charts/contemporaries-chart.js";
import { palette, seriesColours } from "../../src/charts/palette.js";
import { renderSvg } from "../../src/charts/render-svg.js";
import { contrastRatio } from "../look/contrast-ratio.js";
import { empty, full } from "./sample-charts.js";

const texts = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map((m) => m[1]!);

describe.each(Object.entries(full))("the %s chart", (_, chart) => {
  const svg = renderSvg(chart.spec);

  it("is plain JSON of Vega-Lite 5 that fetches nothing", () => {
    expect(JSON.parse(JSON.stringify(chart))).toEqual(chart);
    expect(JSON.stringify(chart.spec)).not.toMatch(/"url"|NaN|Infinity|undefined/);
    expect(chart.spec["$schema"]).toMatch(/vega-lite\/v5\.json$/);
  });

  it("says n in its caption and what it shows in words", () => {
    expect(chart.caption).toMatch(/\d/);
    expect(chart.alt.length).toBeGreaterThan(20);
    expect(svg).toMatch(/^<svg role="img" aria-label="[^"]{20,}"/);
  });

  it("draws its title, axis titles with units, and no word smaller than 11 px", () => {
    const title = (chart.spec["title"] as { text: string }).text;
    expect(texts(svg)).toContain(title);
    const sizes = [...svg.matchAll(/font-size="(\d+(?:\.\d+)?)px"/g)].map((m) => Number(m[1]));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(11);
  });

  it("holds no broken number", () => {
    expect(svg).not.toMatch(/NaN|Infinity|undefined|null/);
  });
});

describe("charts with nothing to show", () => {
  it.each(Object.entries(empty))("%s still draws and says so", (_, chart) => {
    const svg = renderSvg(chart.spec);
    expect(svg).toMatch(/<svg /);
    expect(svg).not.toMatch(/NaN|undefined/);
  });
});

describe("a chart among many contemporaries", () => {
  it("draws 60 of them evenly and says of how many", () => {
    const others = Array.from({ length: 150 }, (_, i) => ({
      name: `A${i}`,
      points: [
        { day: 1, massG: 1000 + i },
        { day: 2, massG: 1010 + i },
      ],
    }));
    const chart = contemporariesChart({
      animal: { name: "Mica", points: [{ day: 1, massG: 1000 }] },
      others,
      othersAre: "others",
    });
    expect(chart.caption).toContain("grey: 60 animals drawn of 150");
    const drawn = new Set(chart.rows!.map((row) => row["animal"]));
    expect(drawn.size).toBe(61);
    expect(drawn.has("A0") && drawn.has("A75")).toBe(true);
  });
});

describe("renderSvg", () => {
  it("gives the same text whatever was drawn before", () => {
    const first = renderSvg(full["growthCurve"]!.spec);
    for (const chart of Object.values(full)) renderSvg(chart.spec);
    expect(renderSvg(full["growthCurve"]!.spec)).toBe(first);
  });

  it("draws what the chart library's own asynchronous call draws", async () => {
    const require = createRequire(import.meta.url);
    const vega = require("vega");
    const { compile } = require("vega-lite");
    for (const [name, chart] of Object.entries(full)) {
      const ours = renderSvg(chart.spec);
      vega.resetSVGClipId();
      vega.resetSVGDefIds?.();
      const view = new vega.View(
        vega.parse(compile(structuredClone(chart.spec), { logger: silent }).spec),
        {
          renderer: "none",
        },
      );
      const theirs: string = await view.toSVG();
      expect(ours.replace(/^<svg role="img" aria-label="[^"]*"/, "<svg"), name).toBe(theirs);
    }
  });

  it("refuses a specification that is not valid", () => {
    expect(() => renderSvg({ data: { values: [] } })).toThrow(/spec/i);
  });
});

const silent: unknown = {
  level: () => silent,
  error: () => silent,
  warn: () => silent,
  info: () => silent,
  debug: () => silent,
};

describe("the palette", () => {
  it("gives text 7:1 and every series 3:1 against white (WCAG 2.2, 1.4.6 and 1.4.11)", () => {
    expect(contrastRatio(palette.ink, "#ffffff")).toBeGreaterThan(7);
    for (const colour of [...seriesColours, palette.grey, palette.pale]) {
      expect(contrastRatio(colour, "#ffffff"), colour).toBeGreaterThan(3);
    }
  });

  it("is that of Okabe and Ito (2008)", () => {
    // RGB values of their table, from memory of the published palette.
    const published = ["#e69f00", "#56b4e9", "#009e73", "#0072b2", "#d55e00", "#cc79a7"];
    const greys: readonly string[] = [palette.ink, palette.grey];
    for (const colour of seriesColours.filter((c) => !greys.includes(c))) {
      expect(published).toContain(colour);
    }
  });
});
