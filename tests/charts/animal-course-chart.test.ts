import { describe, expect, it } from "vitest";
import { animalCourseChart } from "../../src/charts/animal-course-chart.js";
import type { VegaLiteSpec } from "../../src/charts/chart.js";
import { drawFitting } from "../../src/charts/fit-spec.js";
import { renderSvg } from "../../src/charts/render-svg.js";
import { empty, full as sampleCharts } from "./sample-charts.js";

const day = 86_400_000;
const from = Date.UTC(2024, 2, 1);

describe("the course of one animal", () => {
  it("spreads its days over the whole width, in every panel", () => {
    const chart = animalCourseChart({
      name: "Mica",
      zone: "UTC",
      gainDays: 7,
      from,
      to: from + 20 * day,
      masses: [0, 10, 20].map((i) => ({ at: from + i * day, massG: 2000 + i })),
      gains: [7, 9].map((i) => ({ at: from + i * day, value: 10 + i, lower: 5, upper: 25 })),
      intake: [],
      planned: [],
      temperatures: [],
      marks: [{ at: from + 3 * day, kind: "stool", words: "firm" }],
      kinds: ["stool"],
      worded: [],
      change: null,
    });
    const svg = renderSvg(chart.spec);
    // Three weighings: at the left end, in the middle and at the right end of 500 pixels.
    const line = /d="M([\d.]+),[\d.]+L([\d.]+),[\d.]+L([\d.]+),[\d.]+"/.exec(svg)!;
    const [left, middle, right] = line.slice(1).map(Number);
    expect([left, middle, right]).toEqual([0, 250, 500]);
    expect(svg).toMatch(/>\d+ Mar</);
  });

  const full = sampleCharts["animalCourse"]!;
  const layersOf = (spec: VegaLiteSpec) =>
    (spec["vconcat"] as { layer?: VegaLiteSpec[] }[]).map((panel) => panel.layer ?? []);

  it("draws what is missing from what it weighs to what was expected, and nothing else there", () => {
    const [mass] = layersOf(full.spec);
    const brackets = mass!.filter((l) => JSON.stringify(l).includes('"end":2330'));
    expect(brackets).toHaveLength(1);
    expect(JSON.stringify(brackets[0])).toContain('"value":2110');
    const svg = renderSvg(full.spec);
    for (const words of ["220 g missing", "(190 to 250)", "expected of it", "Mica 2110 g"])
      expect(svg).toContain(`>${words}<`);
  });

  it("draws the change through every panel over the same days", () => {
    for (const layer of layersOf(full.spec)) {
      const drawn = layer.map((l) => l["mark"] as { type: string; strokeDash?: number[] });
      expect(drawn.filter((m) => m.type === "rect").length).toBeGreaterThan(0);
      expect(drawn.some((m) => m.type === "rule" && m.strokeDash?.[0] === 6)).toBe(true);
    }
  });

  it("says in a line what has no data, and draws no panel of it", () => {
    const panels = layersOf(empty["animalCourse"]!.spec);
    expect(panels.filter((layer) => layer.length > 0)).toHaveLength(0);
    expect(renderSvg(empty["animalCourse"]!.spec)).toContain(">No temperature was taken.<");
  });

  it("is drawn again for 358 pixels, its newest values beside it", () => {
    const narrow = drawFitting(full, 358);
    expect(narrow.width).toBeLessThanOrEqual(358);
    expect(narrow.svg).toContain(">2110 g<");
    expect(narrow.svg).toContain(">220 g missing<");
    expect(narrow.svg).toContain(">12 May<");
  });

  it("reads the value and not the end of its interval", () => {
    const last = full.reading!.find((r) => r.words.startsWith("11 May"))!;
    expect(last.words).toContain("2110 g, expected 2330 g");
    expect(last.words).toContain("gain 10 g/d (6 to 14)");
  });

  // A study that keeps masses alone had its newest weighings squeezed to one line at the right.
  it.each([
    ["masses", {}],
    ["masses and gains", { gains: true }],
    ["masses and what was eaten", { intake: true }],
    ["masses and temperatures", { temperatures: true }],
  ] as const)("spreads its days where there are %s alone", (_, has) => {
    const at = [0, 1, 2].map((i) => from + i * day);
    const kept = has as Partial<Record<"gains" | "intake" | "temperatures", true>>;
    const values = at.map((each) => ({ at: each, value: 38, lower: null, upper: null }));
    const chart = animalCourseChart({
      name: "Mica",
      zone: "UTC",
      gainDays: 7,
      from,
      to: from + 2 * day,
      masses: at.map((each, i) => ({ at: each, massG: 35 + i })),
      gains: kept.gains ? values : [],
      intake: kept.intake ? values : [],
      planned: [],
      temperatures: kept.temperatures ? values : [],
      marks: [],
      kinds: [],
      worded: [],
      change: null,
    });
    const line = /d="M([\d.]+),[\d.]+L([\d.]+),[\d.]+L([\d.]+),[\d.]+"/.exec(
      renderSvg(chart.spec),
    )!;
    const [left, middle, right] = line.slice(1).map(Number) as [number, number, number];
    expect(middle).toBe(250);
    // Bars of a day are half a day wider to either side.
    expect(right - left).toBeGreaterThan(350);
  });
});
