import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  formatInstant,
  formatMass,
  formatMeasured,
  formatNumber,
  formatRate,
  screenWording,
} from "../../src/units/format.js";
import { convert, unitNamed } from "../../src/units/quantity.js";
import { readNumber, readQuantity } from "../../src/units/read-quantity.js";

describe("conversion", () => {
  it("uses the exact definitions", () => {
    // 1 lb = 453.59237 g (international yard and pound agreement 1959); NIST SP 811 (2008) appendix B.
    expect(convert(1, "lb", "g")).toBe(453.59237);
    expect(convert(16, "oz", "lb")).toBeCloseTo(1, 14);
    expect(convert(1, "oz", "g")).toBe(28.349523125);
    // Thermochemical calorie 4.184 J exactly (NIST SP 811).
    expect(convert(1, "kcal", "kJ")).toBe(4.184);
    expect(convert(-40, "degF", "degC")).toBe(-40);
    expect(convert(212, "degF", "degC")).toBe(100);
    expect(convert(38.5, "degC", "degF")).toBe(101.3);
    expect(convert(1.1, "kg", "g")).toBe(1100);
    expect(() => convert(1, "g", "mL")).toThrow(/density/);
  });

  it("goes there and back", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1e-3, max: 1e6, noNaN: true }),
        fc.constantFrom("g", "kg", "lb", "oz"),
        (value, unit) => {
          const there = convert(convert(value, "g", unit as "g"), unit as "g", "g");
          expect(Math.abs(there / value - 1)).toBeLessThan(1e-12);
        },
      ),
      { seed: 20250306 },
    );
  });
});

describe("reading numbers", () => {
  const point = (text: string) => readNumber(text, "point");
  const comma = (text: string) => readNumber(text, "comma");
  const number = (value: number) => ({ kind: "number", value, unit: null });

  it("follows the study's decimal mark", () => {
    expect(point("1850")).toEqual(number(1850));
    expect(point("1.85")).toEqual(number(1.85));
    expect(comma("1,85")).toEqual(number(1.85));
    expect(point("1,234.5")).toEqual(number(1234.5));
    expect(comma("1.234,5")).toEqual(number(1234.5));
    expect(point("1 234.5")).toEqual(number(1234.5));
    expect(point("1'234'567")).toEqual(number(1234567));
    expect(comma("12.5")).toEqual(number(12.5));
    expect(point("12,5")).toEqual(number(12.5));
    expect(point("−3")).toEqual(number(-3));
    expect(point("1,234,567")).toEqual(number(1234567));
  });

  it("does not guess between a group and a decimal", () => {
    expect(point("1,250")).toEqual({ kind: "ambiguous", readings: [1250, 1.25] });
    expect(comma("1.250")).toEqual({ kind: "ambiguous", readings: [1250, 1.25] });
  });

  it("refuses what is none", () => {
    for (const text of [
      "",
      "abc",
      "12a",
      "1.2.3",
      "--1",
      "1,2,3",
      "NaN",
      "Infinity",
      "0x10",
      "1e999",
      "1 2",
    ])
      expect(point(text).kind, text).toBe("not a number");
  });

  it("reads a unit in the cell", () => {
    const q = (text: string) => readQuantity(text, "point");
    expect(q("1.85 kg")).toEqual({ kind: "number", value: 1.85, unit: "kg" });
    expect(q("1850g")).toEqual({ kind: "number", value: 1850, unit: "g" });
    expect(q("4 lb 3 oz")).toEqual({ kind: "number", value: 4.1875, unit: "lb" });
    expect(q("4lbs, 3 ounces")).toEqual({ kind: "number", value: 4.1875, unit: "lb" });
    expect(readQuantity("1,85 kg", "comma")).toEqual({ kind: "number", value: 1.85, unit: "kg" });
    expect(q("101.3 °F")).toEqual({ kind: "number", value: 101.3, unit: "degF" });
    expect(q("12 stone")).toEqual({ kind: "unknown unit", text: "stone" });
    expect(q("4 lb 17 oz").kind).toBe("not a number");
    expect(q("4 lb 3 kcal").kind).toBe("unknown unit");
    expect(unitNamed("constructor")).toBeNull();
  });

  it("reads back every number it is given", () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        const tiny = value !== 0 && Math.abs(value) < 1e-6;
        expect(point(String(value))).toEqual(
          tiny ? { kind: "not a number" } : number(value === 0 ? 0 : value),
        );
      }),
      { seed: 20250307, numRuns: 1000 },
    );
  });

  it("never throws, whatever comes", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        readQuantity(text, "point");
        readQuantity(text, "comma");
      }),
      { seed: 20250308, numRuns: 2000 },
    );
  });
});

describe("format for the eye", () => {
  it("is the same on every computer", () => {
    expect(formatNumber(12345.678)).toBe("12\u202f346");
    expect(formatNumber(-0.0123456, 3)).toBe("−0.0123");
    expect(formatNumber(1234.5)).toBe("1235");
    expect(formatNumber(0)).toBe("0");
    expect(formatNumber(9.996, 3)).toBe("10");
    expect(formatMass(1849.6)).toBe("1850 g");
    expect(formatMass(12_345)).toBe("12.35 kg");
    expect(formatRate(61.24)).toBe("61.2 g/d");
    expect(formatInstant(Date.parse("2025-05-02T04:10Z"), "Europe/Berlin")).toBe(
      "2 May 2025 06:10",
    );
    expect(formatMeasured({ value: 61.234, unit: "g/d", se: 3.12 })).toBe("61.2 g/d (SE 3.12)");
    expect(screenWording("UTC").list(["a", 1234.5678, "c"])).toBe("a, 1235 and c");
  });

  // What is smaller than any instrument tells ends beyond every number when divided by.
  it.each(["5e-324", "1e-300", "-1e-9", "0.0000001 kg"])("reads no number in %s", (text) => {
    expect(readQuantity(text, "point").kind).toBe("not a number");
  });
  it("reads a zero without its sign", () => {
    expect(readQuantity("-0", "point")).toEqual({ kind: "number", value: 0, unit: null });
    expect(readQuantity("0.000001", "point")).toMatchObject({ value: 1e-6 });
  });
});
