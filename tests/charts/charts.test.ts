import { createRequire } from "node:module";
import { describe, expect, it } from "vitest";
import { contemporariesChart } from "../../src/charts/contemporaries-chart.js";
import { drawFitting } from "../../src/charts/fit-spec.js";
import { seriesScales } from "../../src/charts/palette.js";
import { renderSvg } from "../../src/charts/render-svg.js";
import { theme, themed } from "../../src/charts/theme.js";
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
  const others = [0, 1].map((i) => ({
    name: `A${i}`,
    points: [1, 2, 9].map((day) => ({ day, massG: 1000 + i + day })),
  }));
  const band = [1, 2, 3].map((day) => ({
    day,
    n: 9,
    low: 900,
    lowerQuarter: 950,
    middle: 1000,
    upperQuarter: 1050,
    high: 1100,
  }));
  const animal = { name: "Mica (M1)", points: [1, 2, 3].map((day) => ({ day, massG: 1000 })) };
  const of = (chart: object) => JSON.stringify(chart);

  it("draws a band, and dots only where there are too few for one", () => {
    const chart = contemporariesChart({ animal, others, band, othersAre: "others" });
    const dots = of(chart).match(/"animal":"A\d"/g) ?? [];
    // Day 9 alone lies beyond the band.
    expect(dots).toHaveLength(2);
    expect(of(chart)).toContain('"label":"9 in 10"');
    expect(JSON.stringify({ ...chart.spec, config: null })).not.toContain('"legend":{');
    const few = contemporariesChart({ animal, others, band: [], othersAre: "others" });
    expect(of(few).match(/"animal":"A\d"/g)).toHaveLength(6);
    expect(of(few)).not.toContain("9 in 10");
  });

  it("reads the plotted values, each animal's own first", () => {
    const { reading } = contemporariesChart({ animal, others, band, othersAre: "others" });
    expect(reading).toHaveLength(3);
    expect(reading![2]).toEqual({
      x: 3,
      words: "Day 3: 1000 g; contemporaries 1000 g, 9 in 10 between 900 and 1100 (n 9)",
    });
  });

  it("draws a model's curve without points", () => {
    const chart = contemporariesChart({ animal, others, band, othersAre: "o", isCurve: true });
    expect(of(chart)).not.toContain('"point":{');
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
  it.each([0, 1] as const)("keeps text 7:1 and marks 3:1 against its ground (%s)", (ground) => {
    const paper = theme.paper[ground];
    // WCAG 2.2, 1.4.6 and 1.4.11.
    expect(contrastRatio(theme.ink[ground], paper)).toBeGreaterThan(7);
    for (const name of ["water-line", "plan", "alarm", "violet", "moss", "rust", "rule"] as const) {
      expect(contrastRatio(theme[name][ground], paper), name).toBeGreaterThan(3);
    }
  });

  it("gives no two of the first 36 names the same colour and dash", () => {
    const names = Array.from({ length: 36 }, (_, i) => `animal ${i}`);
    const { colour, dash, shape } = seriesScales(names);
    const looks = names.map((_, i) => `${colour.range[i]} ${dash.range[i]} ${shape.range[i]}`);
    expect(new Set(looks).size).toBe(36);
  });

  it("is the only source of colours: every one in a picture follows the page", () => {
    for (const [name, chart] of Object.entries(full)) {
      const svg = themed(renderSvg(chart.spec));
      expect(svg.match(/#[0-9a-f]{3,8}\b/gi) ?? [], name).toEqual([]);
      expect(svg, name).toContain("var(--ink)");
    }
  });
});

describe("a chart drawn again for a narrow screen", () => {
  it.each(Object.entries(full))("%s fits 358 pixels", (_, chart) => {
    const drawn = drawFitting(chart, 358);
    expect(drawn.width).toBeLessThanOrEqual(358.5);
    expect(drawn.places).toHaveLength(chart.reading?.length ?? 0);
    for (const place of drawn.places) {
      expect(place).toBeGreaterThanOrEqual(0);
      expect(place).toBeLessThanOrEqual(drawn.width);
    }
    // Letters keep their size.
    const sizes = [...drawn.svg.matchAll(/font-size="([\d.]+)px"/g)].map((m) => Number(m[1]));
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(11);
  });
});
