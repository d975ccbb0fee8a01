import { describe, expect, it } from "vitest";
import { gainChart } from "../../src/charts/gain-chart.js";
import { pictureKind } from "../../src/charts/picture-kind.js";
import { drawChart, measuredWidth, renderSvg } from "../../src/charts/render-svg.js";
import { full } from "./sample-charts.js";

const gains = (name: string, g: number) =>
  gainChart({
    name,
    unit: "g/d",
    method: "regression over 7 days",
    points: [10, 11, 12].map((day) => ({ day, gain: g * day, lower: null, upper: null })),
  });

describe("the kind of a picture", () => {
  it("is one for two animals whose names and numbers differ, and holds neither", () => {
    const [one, other] = [gains("Mica", 2), gains("Tazzle", 31)].map((c) => pictureKind(c.spec));
    expect(JSON.stringify(one!.spec)).toBe(JSON.stringify(other!.spec));
    expect(JSON.stringify(one!.spec)).not.toMatch(/Mica|"day":10/);
    expect(one!.given.rows.flat()).toContainEqual(expect.objectContaining({ day: 10, gain: 20 }));
  });

  it("leaves no number of its own in a picture", () => {
    for (const [name, { spec, narrow }] of Object.entries(full))
      for (const each of narrow === undefined ? [spec] : [spec, narrow]) {
        const { svg, width } = drawChart(each);
        // Widths stand in for others between 512 and 513.
        expect(svg, name).not.toMatch(/512\.00\d|"rows"|given_\d/);
        expect(width, name).toBeGreaterThan(100);
      }
  });

  it("gives each animal its own picture, whichever was drawn first", () => {
    const [one, other] = [gains("Mica", 2), gains("Tazzle", 31)] as const;
    const first = renderSvg(one.spec);
    const second = renderSvg(other.spec);
    expect(renderSvg(one.spec)).toBe(first);
    expect(second).toContain("Tazzle");
    expect(second).not.toContain("Mica");
  });

  it("measures a picture made for narrow screens as wide as it is drawn", () => {
    const { narrow } = full["animalCourse"]!;
    expect(measuredWidth(narrow!)).toBe(drawChart(narrow!).width);
  });
});
