import { describe, expect, it } from "vitest";
import { animalCourseChart } from "../../src/charts/animal-course-chart.js";
import { renderSvg } from "../../src/charts/render-svg.js";

const day = 86_400_000;
const from = Date.UTC(2024, 2, 1);

describe("the course of one animal", () => {
  it("spreads its days over the whole width, in every panel", () => {
    const chart = animalCourseChart({
      name: "Mica",
      zone: "UTC",
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
    // Three weighings: at the left end, in the middle and at the right end of 640 pixels.
    const line = /d="M([\d.]+),[\d.]+L([\d.]+),[\d.]+L([\d.]+),[\d.]+"/.exec(svg)!;
    const [left, middle, right] = line.slice(1).map(Number);
    expect([left, middle, right]).toEqual([0, 320, 640]);
    expect(svg).toMatch(/>\d+ Mar</);
  });
});
