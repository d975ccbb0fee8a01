import { describe, expect, it } from "vitest";
import { temperatureReasons } from "../../../src/flags/levels/temperature-reasons.js";
import type { SpeciesProfile } from "../../../src/species/species-profile.js";
import { hour, start } from "../../rates/small-study.js";
import { at, type CaseParts, caseOf, seen } from "./case-of.js";

/**
 * The range of this made-up species is 36.5 to 38.5 degrees; the margin for a thermometer's
 * error, 0.2, and the bounds without a range are common practice of the project.
 */
const profileWith = (range: readonly [number, number] | null) =>
  ({
    ...caseOf().profile,
    bodyTemperature: range === null ? null : { range, unit: "degC", source: "invented" },
  }) as unknown as SpeciesProfile;
const usual = { profile: profileWith([36.5, 38.5]) };
const of = (parts: CaseParts, over: Parameters<typeof caseOf>[1] = {}) =>
  temperatureReasons(caseOf(parts, { ...usual, ...over }));
const temps = (...lines: readonly (readonly [number, string])[]) =>
  seen(...lines.map(([h, words]) => [h, "temperature", words] as const));
const whats = (...a: Parameters<typeof of>) => of(...a).map((r) => `${r.level}: ${r.what}`);

describe("a temperature", () => {
  it("within the range raises nothing, its ends included", () => {
    for (const value of ["36.5", "37.5", "38.5"]) expect(whats(temps([2, value]))).toEqual([]);
  });

  it.each([
    ["36.4", "second look: cold"],
    ["36.3", "second look: cold"],
    ["36.2", "danger: cold"],
    ["38.6", "second look: hot"],
    ["38.7", "second look: hot"],
    ["38.8", "danger: hot"],
  ])("of %s is a %s: a look inside the thermometer's error, beyond it a danger", (value, what) => {
    expect(whats(temps([2, value]))).toEqual([what]);
  });

  it("too low forbids the next feed, too high does not; 0.3 further out is further", () => {
    const [cold] = of(temps([2, "36.0"]));
    expect(cold).toMatchObject({
      act: "do not feed until spoken",
      at: at - 2 * hour,
      byAt: at,
      suggestionsWait: true,
      size: { value: 36, unit: "degC", outwards: "lower", step: 0.3 },
    });
    const [hot] = of(temps([2, "39.0"]));
    expect(hot).toMatchObject({
      act: "call now, feed as ordered",
      size: { value: 39, outwards: "higher" },
    });
    const [look] = of(temps([2, "36.4"]));
    expect(look).toMatchObject({ act: null, size: null, suggestionsWait: false, byAt: null });
  });

  it("is told with its limits, where they are from, and its words", () => {
    const [cold] = of(temps([2, "36.0"]));
    expect(cold!.sentence.level).toBe("problem");
    expect(cold!.sentence.parameters).toMatchObject({
      what: "cold",
      degC: 36,
      low: 36.5,
      high: 38.5,
      margin: 0.2,
      danger: true,
      inDoubt: false,
      known: true,
      source: "invented",
      at: at - 2 * hour,
    });
    const [look] = of(temps([2, "38.6"]));
    expect(look!.sentence).toMatchObject({ level: "caution", parameters: { danger: false } });
  });

  it("of the last 24 h counts, an older one no longer, unless it is the last", () => {
    expect(whats(temps([23.9, "36.0"], [2, "37.5"]))).toEqual(["danger: cold"]);
    expect(whats(temps([24, "36.0"], [2, "37.5"]))).toEqual([]);
    expect(whats(temps([30, "36.0"]))).toContain("danger: cold");
  });

  it("is the worst of several, on whichever side it lies", () => {
    expect(of(temps([5, "36.0"], [3, "39.9"], [2, "37.5"]))[0]!.what).toBe("hot");
    expect(of(temps([5, "35.0"], [3, "39.0"], [2, "37.5"]))[0]!.what).toBe("cold");
  });

  it("that may be two things counts as the worse one, and says that it is in doubt", () => {
    const [reason] = of(temps([2, "<36"]));
    expect(reason).toMatchObject({ level: "danger", what: "cold" });
    // There is no number to be told.
    expect(reason!.sentence.parameters["known"]).toBe(false);
  });

  it("written in a note counts for a danger, in doubt", () => {
    const [reason, ...more] = of({
      observations: [
        { at: at - 2 * hour, kind: "temperature", valueText: "37.5" },
        { at: at - hour, kind: "note", valueText: "temp 95.1 F, gave warm bottle" },
      ],
    });
    expect(more).toEqual([]);
    expect(reason).toMatchObject({ level: "danger", what: "cold" });
    expect(reason!.sentence.parameters["inDoubt"]).toBe(true);
  });

  it("is none of a glucose, in a line of its own or in a note", () => {
    const parts = seen(
      [3, "temperature", "37.5"],
      [2, "glucose", "30 mg/dL"],
      [1, "exam", "bg 32, gave dextrose"],
    );
    expect(whats(parts)).toEqual([]);
    // Nor does its line make the last temperature a young one.
    const old = seen(
      [13, "temperature", "37.5"],
      [2, "glucose", "90 mg/dL"],
      [1, "glucose", "see sheet"],
    );
    expect(whats(old)).toEqual(["measure first: temperature first"]);
    // Six glucose lines a day are no rhythm of temperatures.
    const daily = [4, 3, 2, 1, 0].map((i) => [29 + 24 * i, "temperature", "37.5"] as const);
    const often = [4, 3, 2, 1, 0].map((i) => [27 + 24 * i, "glucose", "90 mg/dL"] as const);
    expect(whats(seen(...daily, ...often))).toEqual([]);
  });

  it("above what a thermometer shows has no number to be told either", () => {
    const [hot] = of(temps([2, ">42"]));
    expect(hot).toMatchObject({ level: "danger", what: "hot" });
    expect(hot!.sentence.parameters["known"]).toBe(false);
  });

  it("of yesterday in a note is older than the one of today", () => {
    const parts = seen([30, "note", "temp 95.1 F, gave warm bottle"], [26, "temperature", "37.5"]);
    expect(whats(parts, { veryYoung: false })).toEqual([]);
  });

  it("of a species without a range is held against bounds of common practice, without a margin", () => {
    const none = { profile: profileWith(null) };
    expect(whats(temps([2, "35.0"]), none)).toEqual([]);
    expect(whats(temps([2, "34.9"]), none)).toEqual(["danger: cold"]);
    expect(whats(temps([2, "40.5"]), none)).toEqual([]);
    expect(whats(temps([2, "40.6"]), none)).toEqual(["danger: hot"]);
    expect(of(temps([2, "40.6"]), none)[0]!.sentence.parameters["source"]).toMatch(
      /common practice/,
    );
    const off = { limits: { temperatureWithoutRangeC: null } };
    expect(whats({ ...temps([2, "34.0"]), ...off }, none)).toEqual([]);
  });

  it("is not judged where the margin is switched off", () => {
    const off = { limits: { temperatureMarginC: null } };
    expect(whats({ ...temps([2, "35.0"]), ...off })).toEqual([]);
  });
});

describe("a temperature that goes one way", () => {
  it("through half of the range in four readings is looked at", () => {
    const [reason, ...more] = of(temps([30, "38.4"], [20, "38.0"], [10, "37.7"], [2, "37.4"]));
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "second look",
      what: "temperature trend",
      at: at - 2 * hour,
      size: { unit: "degC", outwards: "higher", step: 0.3 },
    });
    expect(reason!.size!.value).toBeCloseTo(1, 9);
    expect(reason!.sentence.parameters).toMatchObject({
      n: 4,
      from: 38.4,
      to: 37.4,
      since: at - 30 * hour,
    });
  });

  const trend = (...values: readonly string[]) =>
    whats(temps(...values.map((v, i) => [2 + 6 * (values.length - 1 - i), v] as const))).length > 0;
  it("upwards too, but not through less than half of the range, nor back and forth", () => {
    expect(trend("36.6", "37.0", "37.3", "37.7")).toBe(true);
    expect(trend("36.6", "37.0", "37.2", "37.5")).toBe(false);
    expect(trend("38.4", "38.0", "37.7", "37.5")).toBe(false);
    expect(trend("38.4", "37.6", "37.7", "37.2")).toBe(false);
    expect(trend("36.6", "37.6", "37.5", "37.9")).toBe(false);
    expect(trend("38.4", "38.0", "38.0", "37.3")).toBe(false);
    expect(trend("36.6", "37.0", "37.0", "37.7")).toBe(false);
  });

  it("is told by the last four readings alone, never by three", () => {
    expect(trend("38.4", "38.0", "37.4")).toBe(false);
    expect(trend("36.6", "38.4", "38.0", "37.7", "37.3")).toBe(true);
    expect(trend("38.4", "37.2", "37.3", "37.4", "37.5")).toBe(false);
  });

  it("within three days, and while its last reading is of the last 24 h", () => {
    const over = (first: number, last: number) =>
      whats(temps([first, "38.4"], [20 + last, "38.0"], [10 + last, "37.7"], [last, "37.3"]), {
        veryYoung: false,
      }).length > 0;
    expect(over(71.9, 2)).toBe(true);
    expect(over(72, 2)).toBe(false);
    expect(over(60, 23.9)).toBe(true);
    expect(over(60, 24)).toBe(false);
  });

  it("needs half a degree at least where the range is narrow or unknown", () => {
    const narrow = { profile: profileWith([37.5, 38.1]) };
    const falls = (to: string, over: object) =>
      whats(temps([20, "38.1"], [14, "38.0"], [8, "37.9"], [2, to]), over).length > 0;
    expect(falls("37.55", narrow)).toBe(true);
    expect(falls("37.7", narrow)).toBe(false);
    expect(falls("37.55", { profile: profileWith(null) })).toBe(true);
    expect(falls("37.7", { profile: profileWith(null) })).toBe(false);
  });

  it("is not told beside a temperature out of range, nor of readings in doubt", () => {
    expect(whats(temps([20, "38.4"], [14, "38.0"], [8, "37.4"], [2, "36.4"]))).toEqual([
      "second look: cold",
    ]);
  });
});

describe("a temperature that cannot be read", () => {
  it("is taken again first, by the next feed or now, and says under which it is cold", () => {
    const parts = temps([8, "37.5"], [2, "see sheet"]);
    const [reason, ...more] = of(parts);
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "measure first",
      what: "temperature in doubt",
      at: at - 2 * hour,
      byAt: at,
    });
    expect(reason!.sentence.parameters).toMatchObject({ under: 36.3 });
    expect(String(reason!.sentence.parameters["written"])).toContain("see sheet");
    expect(of(parts, { nextFeedAt: at + hour })[0]!.byAt).toBe(at + hour);
  });

  it("is asked about no longer once a sure one is newer", () => {
    expect(whats(temps([8, "see sheet"], [2, "37.5"]))).toEqual([]);
    expect(whats(temps([8, "37.5"], [2, "see sheet"]))).toEqual([
      "measure first: temperature in doubt",
    ]);
  });

  it("names no limit where nobody knows one, and no margin without a range", () => {
    const unknown = (limits: CaseParts["limits"]) =>
      of({ ...temps([8, "37.5"], [2, "see sheet"]), limits }, { profile: profileWith(null) })[0]!
        .sentence.parameters["under"];
    expect(unknown({})).toBe(35);
    expect(unknown({ temperatureWithoutRangeC: null })).toBeNull();
    const off = of({
      ...temps([8, "37.5"], [2, "see sheet"]),
      limits: { temperatureMarginC: null },
    });
    expect(off[0]!.sentence.parameters["under"]).toBe(36.5);
  });
});

describe("the temperature of the very young", () => {
  it("is taken first once the last is over 12 h old", () => {
    expect(whats(temps([12, "37.5"]))).toEqual([]);
    const [reason] = of(temps([12.1, "37.5"]));
    expect(reason).toMatchObject({
      level: "measure first",
      what: "temperature first",
      at: at - 12.1 * hour,
      byAt: at,
      suggestionsWait: true,
    });
    expect(reason!.sentence.parameters).toMatchObject({ limit: 12, under: 36.3 });
    expect(reason!.sentence.parameters["hours"]).toBeCloseTo(12.1, 9);
    expect(of(temps([12.1, "37.5"]), { nextFeedAt: at + hour })[0]!.byAt).toBe(at + hour);
  });

  it("that is taken once a day is old after 30 h, and never later than 36", () => {
    const daily = (last: number, gap: number) =>
      temps(...[4, 3, 2, 1, 0].map((i) => [last + gap * i, "37.5"] as const));
    expect(whats(daily(30, 24))).toEqual([]);
    expect(whats(daily(30.1, 24))).toEqual(["measure first: temperature first"]);
    expect(whats(daily(36, 40))).toEqual([]);
    expect(whats(daily(36.1, 40))).toEqual(["measure first: temperature first"]);
  });

  it("that was never taken, or never legibly, is asked for since admission", () => {
    const [reason] = of({});
    expect(reason).toMatchObject({ what: "temperature first", at: start });
    expect(reason!.sentence.parameters["hours"]).toBeNull();
    expect(whats(temps([2, "see sheet"]))).toEqual([
      "measure first: temperature in doubt",
      "measure first: temperature first",
    ]);
    expect(of({ animal: { admittedAt: null } })[0]!.at).toBe(at);
  });

  it("is no rule for older ones, where it is switched off, nor for a species nobody takes it of", () => {
    expect(whats({}, { veryYoung: false })).toEqual([]);
    expect(whats({ limits: { temperatureH: null } })).toEqual([]);
    const chick = { profile: profileWith(null) };
    expect(whats({}, { ...chick, temperaturesAreWritten: false })).toEqual([]);
    expect(whats({}, { ...chick, temperaturesAreWritten: true })).toHaveLength(1);
    expect(whats({}, { temperaturesAreWritten: false })).toHaveLength(1);
  });

  it("is no line that says that nobody took it", () => {
    expect(whats(temps([14, "37.5"], [2, "not taken"]))).toEqual([
      "measure first: temperature first",
    ]);
  });
});
