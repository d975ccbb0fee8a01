import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { screenWording } from "../../src/units/format.js";
import { formatDays, formatInstant, wordedDate } from "../../src/units/format-date.js";
import { formatAmount, formatMass, formatMeasured } from "../../src/units/format-measured.js";
import { count, formatNumber } from "../../src/units/format-number.js";
import { convert, unitNamed } from "../../src/units/quantity.js";
import { readNumber, readQuantity } from "../../src/units/read-quantity.js";
import { typeset } from "../../src/units/typeset.js";

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
    expect(formatMass(12_345)).toBe("12\u202f345 g");

    expect(formatInstant(Date.parse("2025-05-02T04:10Z"), "Europe/Berlin")).toBe(
      "2 May 2025 06:10",
    );
    expect(formatMeasured({ value: 61.234, unit: "g/d", se: 3.12 })).toBe("61 g/d (55 to 67)");
    expect(screenWording("UTC").list(["a", 1234.5678, "c"])).toBe("a, 1235 and c");
  });

  const interval = (value: number, lower: number | null, upper: number | null, unit = "g") =>
    formatMeasured({ value, unit, interval: { lower, upper, level: 0.95 } });

  it("rounds to two significant digits of the interval's half width, all three alike", () => {
    // Worked by hand: half width 115, so tens.
    expect(interval(487, 372, 602)).toBe("490 g (370 to 600)");
    // Half width 4.5 would give tenths, but no gain is written finer than 1 g/d.
    expect(interval(17.23, 12.7, 21.7, "g/d")).toBe("17 g/d (13 to 22)");
    // Half width 0.185: hundredths.
    expect(interval(3.456, 3.27, 3.64, "kcal/g")).toBe("3.46 kcal/g (3.27 to 3.64)");
    expect(interval(-0.4, -2.2, 1.4, "%/d")).toBe("−0.4 %/d (−2.2 to 1.4)");
    expect(interval(37.82, 37.64, 38, "degC")).toBe("37.8 °C (37.6 to 38.0)");
    expect(interval(12345, 11100, 13590)).toBe("12\u202f300 g (11\u202f100 to 13\u202f600)");
    expect(interval(17, 13, null, "g/d")).toBe("17 g/d (13 or more)");
    expect(interval(17, null, null, "g/d")).toBe("17 g/d (no limits)");
    expect(interval(5, 5, 5)).toBe("5 g (5 to 5)");
  });

  it("names a level other than 95 %, and a spread by its name", () => {
    const eighty = { lower: 13, upper: 22, level: 0.8 };
    expect(formatMeasured({ value: 17, unit: "g/d", interval: eighty })).toBe(
      "17 g/d (80 %: 13 to 22)",
    );
    expect(formatMeasured({ value: 61.3, unit: "g/d", sd: 12.4, n: 7 })).toBe(
      "61 g/d (SD 12, n 7)",
    );
    expect(formatMeasured({ value: 61.3, unit: "g/d", sd: null, n: 1 })).toBe("61 g/d (n 1)");
    expect(formatMeasured({ value: null, unit: "g/d" })).toBe("–");
  });

  it("never writes an exponent, a minus zero or a digit that was not computed", () => {
    expect(formatNumber(7.855e-5)).toBe("0.00007855");
    expect(formatNumber(-0.0000000001)).toBe("0");
    expect(formatNumber(0.99996)).toBe("1");
    expect(formatNumber(1e15)).toBe("more than 10¹⁵");
    expect(formatAmount(-0.3, "g/d")).toBe("0 g/d");
    expect(formatAmount(61.24, "g/d")).toBe("61 g/d");
    expect(formatAmount(1.26, "%/d")).toBe("1.3 %/d");
    fc.assert(
      fc.property(fc.double({ noNaN: true }), fc.integer({ min: 1, max: 12 }), (x, digits) => {
        const text = formatNumber(x, digits);
        expect(text).not.toMatch(/\de|NaN|undefined|^-|^−0$/);
        if (Math.abs(x) < 1e9 && Math.abs(x) > 1e-3) {
          const back = Number(text.replaceAll("\u202f", "").replace("−", "-"));
          expect(Math.abs(back - x)).toBeLessThanOrEqual(
            0.51 * 10 ** (1 - digits) * 10 * Math.abs(x),
          );
        }
      }),
      { seed: 20250509, numRuns: 2000 },
    );
  });

  it("counts with one plural rule", () => {
    expect(count(1, "weighing")).toBe("1 weighing");
    expect(count(0, "weighing")).toBe("0 weighings");
    expect(count(12_000, "batch", "batches")).toBe("12\u202f000 batches");
  });

  it("names once what the ends of a span share", () => {
    expect(formatDays("2025-03-22", "2025-03-27")).toBe("22 to 27 Mar 2025");
    expect(formatDays("2025-03-28", "2025-04-02")).toBe("28 Mar to 2 Apr 2025");
    expect(formatDays("2024-12-28", "2025-01-02")).toBe("28 Dec 2024 to 2 Jan 2025");
    expect(formatDays("2025-03-22", "2025-03-22")).toBe("22 Mar 2025");
    expect(wordedDate("2025-05-02 06:40")).toBe("2 May 2025 06:40");
    expect(wordedDate("since 2025-05-02")).toBe("since 2025-05-02");
  });

  it("sets a page's text so that no line breaks inside a date, a range or before a unit", () => {
    const nb = "\u00a0";
    expect(typeset("2 May 2025: 17 g/d (13 to 22), 5 % of 1.2 kg", "2025")).toBe(
      `2${nb}May: 17${nb}g/d (13${nb}to${nb}22), 5${nb}% of 1.2${nb}kg`,
    );
    expect(typeset("2 May 2024 06:40", "2025")).toBe(`2${nb}May${nb}2024${nb}06:40`);
    expect(typeset("22 to 27 Mar 2025", "2025")).toBe(`22${nb}to${nb}27${nb}Mar`);
    expect(typeset("2 gulls, 3 dogs")).toBe("2 gulls, 3 dogs");
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
