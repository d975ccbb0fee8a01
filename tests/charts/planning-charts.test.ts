import { describe, expect, it } from "vitest";
import { forecastChart } from "../../src/charts/forecast-chart.js";
import { rationChart } from "../../src/charts/ration-chart.js";
import { renderSvg } from "../../src/charts/render-svg.js";
import { weaningChart } from "../../src/charts/weaning-chart.js";
import { planned } from "./sample-planning-charts.js";

const texts = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map((m) => m[1]!);

describe("what they must not do", () => {
  it("no grams stand for an animal on hold", () => {
    const chart = planned["ration"]!;
    expect(chart.rows!.filter((row) => row["animal"] === "Osk (P2)")).toEqual([]);
    expect(texts(renderSvg(chart.spec))).toContain("hold: ask the veterinarian");
    expect(chart.alt).toContain("Osk (P2): hold: ask the veterinarian");
    expect(chart.alt).toContain("Mica (P1) 520 g (milk 400 g, clam 120 g)");
  });

  it("a share that is not known is a range and counted as such", () => {
    expect(planned["weaning"]!.caption).toContain("n = 2 feeding days with a known share");
    expect(planned["weaning"]!.caption).toContain("(1 day)");
  });

  it("still draw with nothing to show", () => {
    const empty = [
      forecastChart({
        name: "Mica",
        weighings: [],
        path: [],
        targetG: 3000,
        earlier: null,
        answer: "too few weighings",
      }),
      weaningChart({ name: "Mica", weanedPct: 95, answer: "not known", days: [] }),
      rationChart({ day: "no day", animals: [] }),
    ];
    for (const chart of empty) expect(renderSvg(chart.spec)).not.toMatch(/NaN|undefined/);
  });
});
