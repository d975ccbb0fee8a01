import { describe, expect, it } from "vitest";
import { glucose } from "../../../src/series/signs/kinds/glucose.js";
import { temperature } from "../../../src/series/signs/kinds/temperature.js";
import { type MeasureHints, readMeasure } from "../../../src/series/signs/read-measure.js";
import type { SignMeasuring } from "../../../src/series/signs/sign-kind.js";

/** What a careful person reads from a line that should be a number. */
const read = (m: SignMeasuring, line: string, hints: Partial<MeasureHints> = {}) => {
  const found = readMeasure(line, m, { decimal: "point", column: null, study: null, ...hints });
  if (found.is !== "measured") return found.is;
  const { low, high, asks } = found;
  const number = low === high ? [low] : [low, high];
  return asks === null ? number : [...number, asks.code, asks.unit];
};
const temp = (line: string, hints: Partial<MeasureHints> = {}) =>
  read(temperature.measuring!, line, hints);
const sugar = (line: string, hints: Partial<MeasureHints> = {}) =>
  read(glucose.measuring!, line, hints);
/** Tells a length: usual from 20 to 200 units of its own, possible from 10 to 400. */
const length: SignMeasuring = {
  own: "cm",
  units: [
    { name: "cm", spellings: ["cm"], scale: 1 },
    { name: "in", spellings: ["in", "inch", '"'], scale: 2.54 },
    { name: "span", spellings: ["span"], scale: 20, onlyWritten: true },
  ],
  possible: [10, 400],
  credible: [15, 300],
  usual: [20, 200],
  low: ["short"],
  high: ["long"],
};
const long = (line: string, hints: Partial<MeasureHints> = {}) => read(length, line, hints);

describe("a line without a number", () => {
  it("was not looked at where it is blank, says none or says so", () => {
    expect([temp(""), temp("none"), temp("Not taken."), temp("not taken today")]).toEqual(
      new Array(4).fill("not looked"),
    );
    expect([temp("blorp"), temp("n blorp"), temp("nd")]).toEqual([
      "unclear",
      "unclear",
      "not looked",
    ]);
  });

  it("is what its words leave possible, and asked about", () => {
    const asked = ["sign-no-number", null];
    expect([temp("low"), temp("LO!"), temp("felt cold?"), temp("hi .")]).toEqual([
      [20, 30, ...asked],
      [20, 30, ...asked],
      [20, 30, ...asked],
      [43, 46, ...asked],
    ]);
    expect([long("short"), long("very long")]).toEqual([
      [10, 20, ...asked],
      [200, 400, ...asked],
    ]);
    expect([temp("not low"), temp("no fever"), temp("below"), temp("slow")]).toEqual([
      "unclear",
      "unclear",
      "unclear",
      "unclear",
    ]);
  });
});

describe("the unit of a number", () => {
  it("is the one written, that of its column, that of the study, or its kind's own", () => {
    expect([long("50"), long("50 cm"), long("20 in"), long('20"'), long("20inch")]).toEqual([
      [50],
      [50],
      [50.8],
      [50.8],
      [50.8],
    ]);
    expect(long("20", { column: "in" })).toEqual([50.8]);
    expect(long("20", { column: " In. " })).toEqual([50.8]);
    expect(long("20", { column: "-" })).toEqual([20]);
    expect(long("30", { study: "in" })).toEqual([76.2]);
    expect(long("30", { column: "cm", study: "in" })).toEqual([30]);
    expect(long("30", { study: "furlong" })).toEqual([30]);
    // Written in front of it, or as a part of another word.
    expect([long("cm 50"), long("inch: 20"), long("20 indeed"), long("20 in today")]).toEqual([
      [50],
      [20],
      [20],
      [50.8],
    ]);
    expect(long("inch 20")).toEqual([50.8]);
  });

  it("that nobody knows leaves the number unread, unless its own is written", () => {
    expect([long("50", { column: "furlong" }), long("50 cm", { column: "furlong" })]).toEqual([
      "unclear",
      [50],
    ]);
    expect(long("60; 50 cm", { column: "furlong" })).toBe("unclear");
  });

  it("beside another in its column is doubted: both are possible", () => {
    expect(long("50 cm", { column: "in" })).toEqual([50, 127, "sign-unit-doubted", "cm"]);
    expect(long("50 cm", { column: "cm" })).toEqual([50]);
    expect(long("300 cm", { column: "in" })).toEqual([300, "sign-unit-doubted", "cm"]);
  });

  it("that was not told is asked about where another fits better", () => {
    // 12 cm are less than usual, 12 inches are not.
    expect(long("12")).toEqual([12, 30.48, "sign-unit-missing", "in"]);
    expect(long("20")).toEqual([20]);
    expect(long("200")).toEqual([200]);
    // Not possible in its own: the other alone.
    expect(long("9")).toEqual([22.86, "sign-unit-missing", "in"]);
    // Possible in both and usual in none: both.
    expect(long("6")).toEqual([15.24, "sign-unit-missing", "in"]);
    expect(long("5", { study: "cm" })).toBe("unclear");
    expect(long("401")).toBe("unclear");
    expect([long("10", { study: "cm" }), long("400")]).toEqual([
      [10, 25.4, "sign-unit-missing", "in"],
      [400],
    ]);
    // Told by the column, it is doubted only beyond what is credible.
    expect(long("15", { column: "cm" })).toEqual([15]);
    expect(long("14", { column: "cm" })).toEqual([14, 35.56, "sign-unit-doubted", "in"]);
    expect(long("300", { column: "cm" })).toEqual([300]);
    expect(long("301", { column: "cm" })).toEqual([301]);
    expect(long("9", { column: "cm" })).toEqual([22.86, "sign-unit-doubted", "in"]);
    // Written beside the number it stands, as long as it is possible.
    expect(long("14 cm")).toEqual([14]);
    // A unit that is taken only where it is written.
    expect([long("2 span"), long("2")]).toEqual([[40], "unclear"]);
  });

  it("of blood sugar and body temperature is told by where values lie", () => {
    expect([sugar("90"), sugar("5.2 mmol/L"), temp("98.6 F"), temp("98.6")]).toEqual([
      [90],
      [93.6832],
      [37],
      [37, "sign-unit-missing", "degF"],
    ]);
  });
});

describe("a bound", () => {
  it("reaches to what is possible on that side", () => {
    for (const below of ["<", "≤", "below ", "under ", "less than ", "at most "])
      expect(long(`${below}50`)).toEqual([10, 50]);
    for (const above of [">", "≥", "above ", "over ", "more than ", "at least "])
      expect(long(`${above}50`)).toEqual([50, 400]);
    expect(long("< 20 in")).toEqual([10, 50.8]);
  });
});

describe("several numbers", () => {
  it("are possible each, and that is asked about; the same in two units is one", () => {
    const two = ["sign-two-readings", null];
    expect([long("50 / 60"), long("50-60"), long("50 - 60"), long("50; 60")]).toEqual([
      [50, 60, ...two],
      [50, 60, ...two],
      [50, 60, ...two],
      [50, 60, ...two],
    ]);
    expect(long("50 / 50")).toEqual([50]);
    // Within a fiftieth of each other, the first one counts.
    expect(long("50.8 cm / 20 in")).toEqual([50.8]);
    expect(long("50 cm (20 in)")).toEqual([50]);
    expect(long("49 cm / 20 in")).toEqual([49, 50.8, ...two]);
    expect(long("50 cm / 50.5 cm")).toEqual([50, 50.5, ...two]);
    expect(long("50 cm / 60")).toEqual([50, 60, ...two]);
    expect(long("50 cm (20 in) 51 cm")).toEqual([50]);
    expect(long("50 cm 20 in ?")).toEqual([50, 50.8, "sign-number-in-doubt", null]);
    // A second temperature is never lost behind a stroke.
    expect(temp("36.5 C / 38.9 C")).toEqual([36.5, 38.9, ...two]);
  });

  it("of which one cannot be are not read", () => {
    expect([long("50 / 900"), long("900 / 950")]).toEqual(["unclear", "unclear"]);
  });

  it("are clock times, spans of time or the end of a scale, which count for nothing", () => {
    expect([long("50 at 06:10"), long("50 at 06:10:33"), long("06:10 50 cm")]).toEqual([
      [50],
      [50],
      [50],
    ]);
    for (const span of ["12 h", "12h", "3 hrs", "1 hour", "30 min", "5 minutes", "1 minute"])
      expect(long(`50 after ${span}`)).toEqual([50]);
    const score: SignMeasuring = {
      ...length,
      units: [{ name: "of 5", spellings: ["/5", "/ 5", "of 5"], scale: 1 }],
      possible: [0, 9],
      usual: [1, 5],
    };
    expect([read(score, "2/5"), read(score, "2 / 5"), read(score, "2 of 5")]).toEqual([
      [2],
      [2],
      [2],
    ]);
  });

  it("are two readings of one, where its point may be a comma", () => {
    expect(long("50,5")).toEqual([50.5]);
    expect(long("50.5", { decimal: "comma" })).toEqual([50.5]);
    // 1,250 may be 1.25 or 1250: in the measure only what is possible counts.
    const wide: SignMeasuring = { ...length, possible: [1, 3000], usual: [1, 3000] };
    expect(read(wide, "1,250")).toEqual([1.25, 1250, "sign-two-readings", null]);
    expect(long("50,123")).toEqual([50.123]);
    expect(long("1,250")).toBe("unclear");
    expect([long("+50"), long("1.2.3")]).toEqual([[50], "unclear"]);
  });
});

describe("a doubt in words", () => {
  it("is asked about, and the number stands", () => {
    expect([long("50?"), long("maybe 50"), long("50 i think")]).toEqual(
      new Array(3).fill([50, "sign-number-in-doubt", null]),
    );
    expect(long("50 measured")).toEqual([50]);
    // The first thing asked about is what is said.
    expect(long("12?")).toEqual([12, 30.48, "sign-unit-missing", "in"]);
  });
});
