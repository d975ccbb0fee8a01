import { describe, expect, it } from "vitest";
import type { Chart } from "../../src/charts/chart.js";
import { forecastChart } from "../../src/charts/forecast-chart.js";
import { rationChart } from "../../src/charts/ration-chart.js";
import { renderSvg } from "../../src/charts/render-svg.js";
import { weaningChart } from "../../src/charts/weaning-chart.js";

const full: Readonly<Record<string, Chart>> = {
  forecast: forecastChart({
    name: "Mica",
    weighings: [10, 11, 12].map((day) => ({ day, massG: 2000 + 50 * day })),
    path: [12, 20, 30].map((day) => ({
      day,
      massG: 2000 + 50 * day,
      lower: 1950 + 50 * day,
      upper: 2050 + 50 * day,
    })),
    targetG: 3200,
    earlier: { day: 12, massG: 2590, lower: 2500, upper: 2680, madeOn: "1 May 2025" },
    answer: "likely on 20 May 2025",
  }),
  weaning: weaningChart({
    name: "Mica",
    weanedPct: 95,
    answer: "under way",
    days: [
      { day: "2025-05-01", share: 0, low: 0, high: 0, curve: 1 },
      { day: "2025-05-02", share: null, low: 5, high: 40, curve: 12 },
      { day: "2025-05-03", share: 30, low: 30, high: 30, curve: 31 },
    ],
  }),
  ration: rationChart({
    day: "2 May 2025",
    animals: [
      {
        name: "Mica (P1)",
        parts: [
          { diet: "milk", g: 400 },
          { diet: "clam", g: 120 },
        ],
        instead: null,
        eatenG: 480,
      },
      { name: "Osk (P2)", parts: [], instead: "hold: ask the veterinarian", eatenG: null },
    ],
  }),
};

const texts = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*)</g)].map((m) => m[1]!);

describe.each(Object.entries(full))("the %s chart", (_, chart) => {
  const svg = renderSvg(chart.spec);

  it("draws its title, fetches nothing and holds no broken number", () => {
    expect(JSON.parse(JSON.stringify(chart))).toEqual(chart);
    expect(texts(svg)).toContain((chart.spec["title"] as { text: string }).text);
    expect(`${svg}${JSON.stringify(chart.spec)}`).not.toMatch(/"url"|NaN|Infinity|undefined/);
  });

  it("says n in its caption and what it shows in words", () => {
    expect(chart.caption).toMatch(/^n = \d+ /);
    expect(svg).toMatch(/^<svg role="img" aria-label="[^"]{20,}"/);
  });
});

describe("what they must not do", () => {
  it("no grams stand for an animal on hold", () => {
    const chart = full["ration"]!;
    expect(chart.rows!.filter((row) => row["animal"] === "Osk (P2)")).toEqual([]);
    expect(texts(renderSvg(chart.spec))).toContain("hold: ask the veterinarian");
    expect(chart.alt).toContain("Osk (P2): hold: ask the veterinarian");
    expect(chart.alt).toContain("Mica (P1) 520 g (milk 400 g, clam 120 g)");
  });

  it("a share that is not known is a range and counted as such", () => {
    expect(full["weaning"]!.caption).toContain("n = 2 feeding days with a known share");
    expect(full["weaning"]!.caption).toContain("(1 day)");
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
