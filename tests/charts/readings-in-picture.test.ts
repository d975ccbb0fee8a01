import { describe, expect, it } from "vitest";
import type { Chart } from "../../src/charts/chart.js";
import { intakeChart } from "../../src/charts/intake-chart.js";
import { drawChart } from "../../src/charts/render-svg.js";
import { full } from "./sample-charts.js";

const day = (n: number, known: boolean) => ({
  day: `2024-06-${String(n).padStart(2, "0")}`,
  gPerDay: known ? 400 + n : null,
  kcalPerDay: known ? 600 + n : null,
  percentOfMass: known ? 5 : null,
});

/** What is read off at a place that is not in the picture could be neither pointed at nor zoomed to. */
const charts: Readonly<Record<string, Chart>> = {
  ...full,
  "known at last on the 10th": intakeChart({
    name: "Mica",
    days: Array.from({ length: 30 }, (_, i) => day(i + 1, i < 10)),
  }),
  "known at first on the 20th": intakeChart({
    name: "Mica",
    days: Array.from({ length: 30 }, (_, i) => day(i + 1, i >= 19)),
  }),
};

describe("what is read off a picture", () => {
  const asked = Object.entries(charts).filter(([, { reading = [] }]) => reading.length > 1);

  it("is there in several kinds of picture", () => expect(asked.length).toBeGreaterThan(4));

  it.each(asked)("lies within it: %s", (_, chart) => {
    const at = chart.reading!.map(({ x }) => x);
    for (const spec of [chart.spec, ...(chart.narrow === undefined ? [] : [chart.narrow])]) {
      const { places, width } = drawChart(spec, at);
      expect(places).toHaveLength(at.length);
      for (const place of places) {
        expect(place).toBeGreaterThanOrEqual(0);
        expect(place).toBeLessThanOrEqual(width);
      }
    }
  });
});
