import { describe, expect, it } from "vitest";
import type { ObservationRow } from "../../../src/records/study.js";
import { readSign, type SignSettings } from "../../../src/series/signs/read-sign.js";
import { rowOf, signOf } from "./row-of.js";

/** What a careful person reads from a line with its unit and notes. */
const of = (kind: string, value: string, notes: string | null = null, unit = "") =>
  signOf(kind, value, unit, notes);
const read = (
  kind: string,
  value: string,
  more: Partial<ObservationRow> = {},
  settings: Partial<SignSettings> = {},
) => readSign({ ...rowOf(kind, value), ...more }, { decimal: "point", ...settings });

describe("any line", () => {
  it("is kept word for word: value, unit and notes", () => {
    expect(of("vomit", "2x", "after feed", "mL").written).toBe("2x mL after feed");
    expect(of("vomit", "2x").written).toBe("2x");
    expect(read("vomit", "2x", { unit: "", notes: "" }).written).toBe("2x");
    expect(of("vomit", "", "once").written).toBe("once");
  });

  it("with a number in place of words is that number", () => {
    const row = { ...rowOf("temperature", ""), value: 36.5, unit: "degC" };
    expect(readSign(row, { decimal: "point" })).toMatchObject({
      state: "present",
      written: "36.5 degC",
      measure: { low: 36.5, high: 36.5 },
    });
    // Words go before the number that was read from them.
    const both = { ...rowOf("temperature", "36.9"), value: 12 };
    expect(readSign(both, { decimal: "point" }).measure).toMatchObject({ low: 36.9 });
    expect(read("temperature", "").state).toBe("not looked");
  });

  it("that cannot be read is asked about where it stands", () => {
    expect(of("vomit", "blorp").question).toEqual({
      code: "sign-unreadable",
      level: "caution",
      parameters: { animal: "P1", kind: "vomit", at: Date.UTC(2025, 4, 10, 8), written: "blorp" },
      place: {
        file: "observations.csv",
        table: "observations",
        line: 2,
        column: "value",
        animal: "P1",
      },
    });
  });
});

describe("a measured line", () => {
  it("is a number, sure where nothing is asked about it", () => {
    expect(of("temperature", "36.9", null, "degC")).toMatchObject({
      state: "present",
      sure: true,
      measure: { low: 36.9, high: 36.9, unit: "degC" },
      count: null,
      amount: null,
      question: null,
    });
    const doubted = of("temperature", "36.9?");
    expect(doubted).toMatchObject({ state: "present", sure: false });
    expect(doubted.question).toMatchObject({
      code: "sign-number-in-doubt",
      level: "caution",
      parameters: { low: 36.9, high: 36.9, own: "degC", fits: null, written: "36.9?" },
      place: { line: 2 },
    });
  });

  it("is in the study's decimal mark and unit", () => {
    expect(read("temperature", "36,9", {}, { decimal: "comma" }).measure!.low).toBe(36.9);
    const own = read("temperature", "36.9", {}, { decimal: "comma", signDecimal: "point" });
    expect(own.measure!.low).toBe(36.9);
    const fahrenheit = read("temperature", "98.6", {}, { signUnits: { temperature: "F" } });
    expect(fahrenheit).toMatchObject({ sure: true, question: null });
    expect(fahrenheit.measure!.low).toBeCloseTo(37, 6);
  });

  it("that was not taken or cannot be read says so, and what else was seen", () => {
    expect(of("temperature", "not taken")).toMatchObject({
      state: "not looked",
      sure: true,
      measure: null,
      question: null,
      findings: [],
    });
    expect(of("temperature", "not taken", "shivering")).toMatchObject({ findings: ["shivering"] });
    expect(of("temperature", "36.9, shivering").findings).toEqual(["shivering"]);
    expect(of("temperature", "blorp", "vomited")).toMatchObject({
      state: "unclear",
      sure: false,
      findings: ["vomit"],
      question: { code: "sign-unreadable" },
    });
    // What is not grave stays in the words.
    expect(of("temperature", "36.9", "soft stool").findings).toEqual([]);
  });

  it("whose value is blank is read from its notes", () => {
    expect(of("temperature", "", "36.9 C").measure).toMatchObject({ low: 36.9 });
    // A value that stands is not mixed with numbers of its notes.
    expect(of("temperature", "36.9", "was 35.2 before").measure).toMatchObject({
      low: 36.9,
      high: 36.9,
    });
  });
});

describe("a line in words", () => {
  it("with a blank value is read from its notes, its unit beside the value", () => {
    expect(of("vomit", "", "none seen")).toMatchObject({ state: "none", sure: true });
    expect(of("vomit", " ", "none seen")).toMatchObject({ state: "none" });
    expect(of("vomit", "5", null, "g")).toMatchObject({
      state: "present",
      count: null,
      amount: { value: 5, unit: "g" },
    });
    expect(of("vomit", "", null)).toMatchObject({ state: "present", sure: true, question: null });
  });

  it("in doubt is asked about, unread is asked about otherwise", () => {
    expect(of("vomit", "yes?")).toMatchObject({
      state: "present",
      sure: false,
      question: { code: "sign-doubtful" },
    });
    expect(of("vomit", "blorp")).toMatchObject({
      state: "unclear",
      question: { code: "sign-unreadable" },
    });
    expect(of("vomit", "yes").question).toBeNull();
  });

  it("has what its notes add: findings, a count, an amount", () => {
    expect(of("vomit", "yes", "3x, 5 g, blood")).toMatchObject({
      state: "present",
      sure: true,
      count: 3,
      amount: { value: 5, unit: "g" },
      findings: ["blood"],
    });
    expect(of("vomit", "2x, 4 g, weak", "3x, 5 g, blood")).toMatchObject({
      count: 2,
      amount: { value: 4, unit: "g" },
      findings: ["blood", "weak"],
    });
  });

  it("whose notes contradict its none counts as there, in doubt", () => {
    const there = { state: "present", sure: false, question: { code: "sign-doubtful" } };
    expect(of("vomit", "none", "vomited 2x")).toMatchObject({ ...there, count: 2 });
    expect(of("vomit", "none", "5 g")).toMatchObject({ ...there, amount: { value: 5 } });
    expect(of("vomit", "not checked", "twice")).toMatchObject({ ...there, count: 2 });
    expect(of("stool", "none", "bloody")).toMatchObject({ ...there, findings: ["blood"] });
    expect(of("behaviour", "fine", "lethargic")).toMatchObject({
      ...there,
      findings: ["lethargic"],
    });
    // Notes that only say "yes" of something else contradict nothing.
    expect(of("vomit", "none", "seen by all")).toMatchObject({
      state: "none",
      count: null,
      amount: null,
    });
    expect(of("vomit", "none", "none")).toMatchObject({ state: "none", sure: true });
    expect(of("vomit", "yes", "none")).toMatchObject({ state: "present", sure: true });
  });
});

describe("free words", () => {
  it("are there as they stand, with what is grave and what was measured in them", () => {
    expect(of("note", "played, vomited a little")).toMatchObject({
      state: "present",
      sure: true,
      findings: ["vomit"],
      question: null,
    });
    expect(of("note", "played", "then vomited").findings).toEqual(["vomit"]);
    expect(of("note", "soft stool").findings).toEqual([]);
    expect(of("note", "temp 36.1 C").saidInWords).toMatchObject([
      { kind: "temperature", measure: { low: 36.1 } },
    ]);
    expect("saidInWords" in of("note", "played")).toBe(false);
    const comma = { decimal: "comma", signDecimal: "point" } as const;
    expect(read("note", "temp 36.1 C", {}, comma).saidInWords).toHaveLength(1);
  });

  it("of a milestone may say that it was not reached", () => {
    expect([of("milestone", "none").state, of("note", "none").state]).toEqual(["none", "present"]);
  });
});

describe("a treatment", () => {
  const told = (value: string, notes: string | null = null, kind = "medication") => {
    const { state, findings, question } = of(kind, value, notes);
    return [state, findings, question?.code ?? null];
  };
  const ill = ["present", ["treatment of illness"], null];
  const asked = ["present", [], "sign-medication-unmarked"];

  it("is marked by what it is for, in value or notes", () => {
    expect(told("antibiotic")).toEqual(ill);
    expect([told("blorpine for loose stool"), told("blorpine", "against  worms")]).toEqual([
      ill,
      ill,
    ]);
    expect(told("Blorpine FOR cough")).toEqual(ill);
    expect(told("blorpine, lethargic")).toEqual(ill);
  });

  it("unmarked is asked about; for how long or when it is given marks nothing", () => {
    expect([told("blorpine"), told("blorpine for 5 days"), told("blorpine for the night")]).toEqual(
      [asked, asked, asked],
    );
    expect(told("blorpine for the  day")).toEqual(asked);
    expect(told("blorpine for the cough")).toEqual(ill);
  });

  it("that is routine is none of illness, unless it says so too", () => {
    const routine = ["present", ["routine"], null];
    expect([told("vitamins"), told("vitamins for growth")]).toEqual([routine, routine]);
    expect(told("vitamins, antibiotic")).toEqual(ill);
  });

  it("that was not given is none, and asks nothing", () => {
    expect([told("none"), told("not given")]).toEqual([
      ["none", [], null],
      ["none", [], null],
    ]);
    expect(of("medication", "none").sure).toBe(true);
  });

  it("of fluids is for illness, unless routine", () => {
    expect(told("50 mL", null, "fluids")).toEqual(ill);
    expect(told("50 mL routine", null, "fluids")).toEqual(["present", ["routine"], null]);
  });

  it("for what is treated at once tells of it", () => {
    expect(told("diazepam for convulsion")).toEqual([
      "present",
      ["convulsion", "treatment of illness"],
      null,
    ]);
    expect(told("blorpine for vomiting")).toEqual(ill);
  });
});
