import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { axisLabels, legendColumns, rowStep } from "../../src/charts/axis-names.js";
import { shortNames, wrapText } from "../../src/charts/fit-text.js";
import { intervalChart } from "../../src/charts/interval-chart.js";
import { measureText } from "../../src/charts/measure-text.js";
import { renderSvg } from "../../src/charts/render-svg.js";

const anyName = fc.oneof(
  fc.string({ maxLength: 120 }),
  fc.string({ unit: "grapheme", maxLength: 60 }),
  fc.constantFrom("W".repeat(80), "みなとの小波".repeat(9), "a b ".repeat(30)),
);
const seed = 20261125;

describe("wrapText", () => {
  it("keeps words, and every line within the width", () => {
    fc.assert(
      fc.property(anyName, fc.integer({ min: 60, max: 700 }), (text, width) => {
        const lines = wrapText(text, width, 15, true, 3);
        expect(lines.length).toBeLessThanOrEqual(3);
        for (const line of lines) expect(measureText(line, 15, true)).toBeLessThanOrEqual(width);
        const many = wrapText(text, width, 15, true, 1000).join("");
        expect(many.replaceAll(/\s/g, "")).toBe(text.replaceAll(/\s/g, ""));
      }),
      { seed, numRuns: 300 },
    );
  });
});

describe("shortNames", () => {
  it("leaves short names alone, keeps both ends of long ones and all of them apart", () => {
    fc.assert(
      fc.property(fc.uniqueArray(anyName, { maxLength: 12 }), (names) => {
        const short = shortNames(names, 220, 12);
        expect(new Set(short.values()).size).toBe(names.length);
        for (const name of names) {
          if (measureText(name, 12, false) <= 220 && !name.includes("\u2026"))
            expect(short.get(name)!.startsWith(name)).toBe(true);
        }
      }),
      { seed, numRuns: 300 },
    );
    const long = shortNames(["Quillon of the far side of the second breakwater (O24-01)"], 220, 12);
    expect([...long.values()][0]).toMatch(/^Quillon.*\u2026.*\(O24-01\)$/);
  });
});

describe("labels of an axis", () => {
  it("take a second line for a long name, and room for it", () => {
    const [short, long] = ["Fern (O24-02)", "Quillon of the far side of the breakwater (O24-01)"];
    const labels = axisLabels([short, long], 220);
    expect(labels.get(short)).toBe(short);
    expect(labels.get(long)!.replace("\n", " ")).toBe(long);
    expect(rowStep([...labels.values()], 17)).toBeGreaterThanOrEqual(28);
    expect(rowStep([short], 17)).toBe(17);
  });

  it("widen a picture no further than their own room", () => {
    const width = (name: string) =>
      Number(
        /width="([\d.]+)"/.exec(
          renderSvg(
            intervalChart({
              title: "Gain",
              valueTitle: "Gain (g/d)",
              of: "animal",
              intervalIs: "interval",
              rows: [{ name, value: 1, lower: 0, upper: 2 }],
            }).spec,
          ),
        )![1],
      );
    expect(width("W".repeat(80)) - width("Fern")).toBeLessThan(260);
  });
});

describe("legendColumns", () => {
  it("sets fewer entries side by side the longer they are", () => {
    expect(legendColumns(["a", "b"], 640, 12)).toBe(4);
    expect(legendColumns(["W".repeat(24)], 640, 12)).toBeLessThanOrEqual(2);
  });
});
