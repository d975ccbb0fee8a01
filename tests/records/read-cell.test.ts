import { describe, expect, it } from "vitest";
import type { Column } from "../../src/records/columns.js";
import { blankValue, type ColumnReading, placed, readCell } from "../../src/records/read-cell.js";

/** What a keeper reads from each cell of an invented column, written by hand. */
const column = (holds: Column["holds"], more: Partial<Column> = {}): Column => ({
  name: "a_column",
  key: "aColumn",
  holds,
  about: "invented",
  ...more,
});
const reader =
  (holds: Column["holds"], more: Partial<Column> = {}, how: Partial<ColumnReading> = {}) =>
  (cell: string) =>
    readCell(cell, {
      column: column(holds, more),
      zone: "UTC",
      startHour: 6,
      dateStyle: "year-month-day",
      decimal: "point",
      unit: null,
      ...how,
    });
type Outcome = ReturnType<typeof readCell>;
/** Reason, suggestion and what they say of a cell that could not be read. */
const fault = (out: Outcome): readonly unknown[] =>
  "reason" in out ? [out.reason.code, out.suggestion.code, out.reason.parameters] : [out];
const noticed = (out: Outcome): readonly unknown[] =>
  "value" in out ? [out.value, out.notice?.code, out.notice?.parameters] : [out];

describe("a blank cell", () => {
  it("is what a blank means in its column, and a fault where the value is needed", () => {
    expect(reader("number")("  ")).toEqual({ value: null });
    expect(reader("choice", { blankIs: "dry" })("")).toEqual({ value: "dry" });
    expect(blankValue(column("choice", { blankIs: "dry" }))).toBe("dry");
    expect(fault(reader("number", { required: true })(" "))).toEqual([
      "records-empty-cell",
      "suggest-fill-cell",
      {},
    ]);
    // Half a decision may be blank, as long as nothing stands in it.
    expect(reader("number", { neededWhenWritten: true })("")).toEqual({ value: null });
  });
});

describe("a word that stands for no value", () => {
  it("is an error of a spreadsheet, which is neither blank nor zero", () => {
    for (const holds of ["number", "text", "id", "choice", "instant", "date"] as const)
      expect(fault(reader(holds)("#REF!"))).toEqual([
        "records-error-cell",
        "suggest-error-cell",
        { written: "#REF!" },
      ]);
    expect(reader("value")("#REF!")).toEqual({ value: "#REF!" });
  });

  it("is unknown: marked as unread, and a fault where the value is needed", () => {
    expect(reader("number")("not weighed")).toEqual({ value: null, unread: true });
    expect(reader("choice", { blankIs: "dry" })("unknown")).toEqual({ value: "dry", unread: true });
    for (const need of [{ required: true }, { neededWhenWritten: true }])
      expect(fault(reader("number", need)("not weighed"))).toEqual([
        "records-says-unknown",
        "suggest-fill-cell",
        { written: "not weighed" },
      ]);
  });

  it("is kept as written in notes, values and names that may well be called so", () => {
    expect(reader("text")("unknown")).toEqual({ value: "unknown" });
    expect(reader("text", { name: "species" })("unknown")).toEqual({ value: null, unread: true });
    expect(reader("text", { name: "species" })("na")).toEqual({ value: "na" });
    expect(reader("value")("unknown")).toEqual({ value: "unknown" });
    expect(reader("id")("Na")).toEqual({ value: "Na" });
    expect(reader("id")("unknown")).toEqual({ value: null, unread: true });
    // A choice of its own column is that choice.
    const own = { choices: ["unknown"], alsoWritten: { na: "not asked" } };
    expect(reader("choice", own)("Unknown")).toEqual({ value: "unknown" });
    expect(reader("choice", own)("NA")).toEqual({ value: "not asked" });
    expect(reader("choice", own)("n/k")).toEqual({ value: null, unread: true });
  });

  it("is zero for none where the column says so, and nowhere else", () => {
    expect(reader("number", { noneIsZero: true })("nothing left")).toEqual({ value: 0 });
    expect(fault(reader("number")("none"))).toEqual(["records-not-a-number", "suggest-number", {}]);
    expect(fault(reader("number", { noneIsZero: true })("some"))).toHaveLength(3);
  });
});

describe("a text", () => {
  it("keeps its words, spaces made one; signs that do not print go from an id alone", () => {
    expect(reader("text")("  ate   well ")).toEqual({ value: "ate well" });
    expect(reader("id")(" P\u200b1  a ")).toEqual({ value: "P1 a" });
    expect(reader("text")("e\u0301")).toEqual({ value: "\u00e9" });
  });
});

describe("a number", () => {
  const mass = reader("number", { unit: "g", min: 0 }, { unit: "g" });

  it("comes in the column's unit, from its own unit, else from that of the table", () => {
    expect(mass("1850")).toEqual({ value: 1850 });
    expect(mass("1.85 kg")).toEqual({ value: 1850 });
    expect(reader("number", { unit: "g" }, { unit: "kg" })("1.85")).toEqual({ value: 1850 });
    expect(reader("number", { unit: "g" })("1850")).toEqual({ value: 1850 });
    expect(reader("number", { unit: "%" })("12")).toEqual({ value: 12 });
    expect(reader("number", {}, { decimal: "comma" })("1,5")).toEqual({ value: 1.5 });
  });

  it("in a unit that is none, of another kind, or not wanted is a fault", () => {
    expect(fault(mass("12 furlong"))).toEqual([
      "records-unknown-unit",
      "suggest-known-unit",
      { unit: "furlong" },
    ]);
    expect(fault(mass("12 mL"))).toEqual([
      "records-wrong-dimension",
      "suggest-unit-of",
      { unit: "mL", needed: "g" },
    ]);
    expect(fault(reader("number", { unit: "%" })("12 g"))).toEqual([
      "records-unit-not-wanted",
      "suggest-bare-number",
      { unit: "g" },
    ]);
    expect(fault(reader("number")("12 g"))).toHaveLength(3);
  });

  it("that may be two numbers is asked about", () => {
    expect(fault(mass("1,250"))).toEqual([
      "records-ambiguous-number",
      "suggest-one-reading",
      { first: 1250, second: 1.25 },
    ]);
  });

  it("that is none says so, with the number inside where there is one", () => {
    const inside = (number: string) => [
      "records-not-a-number",
      "suggest-number-inside",
      { number },
    ];
    expect(fault(mass("about half"))).toEqual(["records-not-a-number", "suggest-number", {}]);
    expect(fault(mass("60 or 70"))).toEqual(inside("60"));
    expect(fault(mass("left -6.25 behind 3"))).toEqual(inside("-6.25"));
    expect(fault(mass("half of 120,5 or so"))).toEqual(inside("120,5"));
    expect(fault(mass("12 %%"))).toEqual(inside("12"));
    // Longer than any number, it is not looked at whole.
    expect(fault(mass(`${"x".repeat(600)} 12`))).toEqual([
      "records-not-a-number",
      "suggest-number",
      {},
    ]);
    expect(fault(mass("1".repeat(501)))).toEqual(inside("1".repeat(500)));
    expect(mass(`${"0".repeat(499)}1`)).toEqual({ value: 1 });
  });

  it("with letters that look like its digits is told as the number they may be", () => {
    const alike = (number: string) => ["records-not-a-number", "suggest-signs-alike", { number }];
    expect([fault(mass("1O5")), fault(mass("lO5")), fault(mass("I2o|"))]).toEqual([
      alike("105"),
      alike("105"),
      alike("1201"),
    ]);
    // Letters alone are no number, and l behind a number is a litre.
    expect(fault(mass("OO"))).toEqual(["records-not-a-number", "suggest-number", {}]);
    expect(reader("number", { unit: "mL" })("2 l")).toEqual({ value: 2000 });
    expect(fault(mass("1O5 of them"))).toEqual([
      "records-not-a-number",
      "suggest-number-inside",
      { number: "1" },
    ]);
  });

  it("outside what is possible is a fault, and on the limit is not", () => {
    const held = reader("number", { unit: "%", min: 2, max: 100 });
    expect([held("2"), held("100")]).toEqual([{ value: 2 }, { value: 100 }]);
    expect(fault(held("1.5"))).toEqual([
      "records-below",
      "suggest-check-value",
      { value: 1.5, unit: "%", min: 2 },
    ]);
    expect(fault(held("101"))).toEqual([
      "records-too-large",
      "suggest-check-value",
      { value: 101, unit: "%", max: 100 },
    ]);
    const above = reader("number", { above: 0 });
    expect(fault(above("0"))).toEqual([
      "records-not-above",
      "suggest-fill-cell",
      { value: 0, unit: "", above: 0 },
    ]);
    expect(above("0.1")).toEqual({ value: 0.1 });
    // A sign where nothing can be negative is most likely a slip of the pen.
    const negative = ["records-negative", "suggest-without-sign", { value: -3, unit: "", size: 3 }];
    expect([fault(above("-3")), fault(reader("number", { min: 0 })("-3"))]).toEqual([
      negative,
      negative,
    ]);
    expect(reader("number", { min: -5 })("-3")).toEqual({ value: -3 });
    expect(fault(reader("number", { min: -5 })("-6"))).toEqual([
      "records-below",
      "suggest-check-value",
      { value: -6, unit: "", min: -5 },
    ]);
    expect(reader("number", { min: 0 })("0")).toEqual({ value: 0 });
  });

  it("written as a power of ten is read, and told", () => {
    expect(noticed(mass("1e3"))).toEqual([
      1000,
      "records-power-of-ten",
      { written: "1e3", value: 1000 },
    ]);
    expect(noticed(mass("1.E+3"))[1]).toBe("records-power-of-ten");
    expect(noticed(mass("2e-1"))[1]).toBe("records-power-of-ten");
    expect(noticed(mass("10"))[1]).toBeUndefined();
  });
});

describe("a number with a remark behind it", () => {
  const mass = reader("number", { unit: "g", min: 0 }, { unit: "g" });
  const read = (text: string) => noticed(mass(text));

  it("is that number, and the remark is told", () => {
    for (const text of [
      "60 (bottle leaked)",
      "60 [bottle leaked]",
      "60; bottle leaked",
      "60 - bottle leaked",
      "60 – bottle leaked",
      "60(bottle leaked)",
      "60 g (bottle leaked)",
    ])
      expect(read(text)).toEqual([60, "records-remark-in-cell", { written: text }]);
    // A unit in brackets is its unit and no remark.
    expect(mass("2 (kg)")).toEqual({ value: 2000 });
    expect(mass("60 [ g ]")).toEqual({ value: 60 });
  });

  it("is no number where the remark holds one, takes it back or blurs it", () => {
    for (const remark of [
      ...["not 60", "70", "or so", "about", "approximately", "estimated", "guessed", "meant lb"],
      ...["wrong", "error", "cancelled", "skipped", "missed", "maybe", "check", "total", "why?"],
      ...["no", "never", "mistake", "void", "circa", "ca", "perhaps", "should be", "unsure"],
      ...["unclear", "x", "", "..."],
    ])
      expect(mass(`60 (${remark})`)).not.toHaveProperty("value");
    expect(mass("(bottle) 60")).not.toHaveProperty("value");
    expect(mass("60 (a) b")).not.toHaveProperty("value");
    // A word that only begins alike takes nothing back.
    expect(read("60 (cage north)")[0]).toBe(60);
    expect(read("60 (noted)")[0]).toBe(60);
    expect(mass("60-70")).not.toHaveProperty("value");
  });
});

describe("a time", () => {
  const time = reader("instant");

  it("is an instant of the study's zone; a date alone stands for its noon, and that is told", () => {
    expect(time("2025-07-01 06:10")).toEqual({ value: Date.UTC(2025, 6, 1, 6, 10) });
    expect(noticed(time("2025-07-01"))).toEqual([
      Date.UTC(2025, 6, 1, 12),
      "records-time-of-day-missing",
      {},
    ]);
    const start = reader("day start", {}, { zone: "Europe/Berlin" });
    expect(start("2025-07-01")).toEqual({ value: Date.UTC(2025, 6, 1, 4) });
    expect(start("2025-07-01 09:00")).toEqual({ value: Date.UTC(2025, 6, 1, 7) });
  });

  it("that the clock skips or gives twice is asked about, with both offsets", () => {
    const berlin = reader("instant", {}, { zone: "Europe/Berlin" });
    expect(fault(berlin("2025-03-30 02:30"))).toEqual([
      "records-time-does-not-exist",
      "suggest-time-skipped",
      { zone: "Europe/Berlin" },
    ]);
    expect(fault(berlin("2025-10-26 02:30"))).toEqual([
      "records-time-happens-twice",
      "suggest-offset",
      {
        zone: "Europe/Berlin",
        first: "2025-10-26 02:30+02:00",
        second: "2025-10-26 02:30+01:00",
      },
    ]);
    const johns = reader("instant", {}, { zone: "America/St_Johns" });
    expect(fault(johns("2025-11-02 01:30"))[2]).toMatchObject({
      first: "2025-11-02 01:30-02:30",
      second: "2025-11-02 01:30-03:30",
    });
  });

  it("in another style of dates, or that is none, says which is needed", () => {
    const style = reader("instant", {}, { dateStyle: "day-month-year" });
    expect(fault(style("07/25/2025 06:10"))).toEqual([
      "records-other-date-style",
      "suggest-date-style",
      { style: "day-month-year" },
    ]);
    expect(fault(time("soon"))).toEqual([
      "records-not-a-time",
      "suggest-time-form",
      { style: "year-month-day" },
    ]);
  });

  it("that is a date with words behind it is still a date where no time is needed", () => {
    const told = [Date.UTC(2025, 6, 1, 12), "records-time-of-day-missing", {}];
    expect(noticed(time("2025-07-01 morning"))).toEqual(told);
    expect(noticed(time("2025-07-01, after lunch"))).toEqual(told);
    expect(fault(time("morning 2025-07-01 late"))[0]).toBe("records-not-a-time");
    expect(fault(time("2025-07-01late"))[0]).toBe("records-not-a-time");
    expect(fault(time("2025-07-01 3rd"))[0]).toBe("records-not-a-time");
    expect(fault(reader("instant", { required: true })("2025-07-01 morning"))[0]).toBe(
      "records-not-a-time",
    );
  });
});

describe("a date", () => {
  const date = reader("date");
  it("is a day, a clock time behind it or not", () => {
    expect(date("2025-07-01")).toEqual({ value: "2025-07-01" });
    expect(date("2025-07-01 06:10")).toEqual({ value: "2025-07-01" });
    expect(date("2025-07-01T06:10")).toEqual({ value: "2025-07-01" });
    expect(reader("date", {}, { dateStyle: "day-month-year" })("01.07.2025")).toEqual({
      value: "2025-07-01",
    });
    expect(fault(date("2025-07-01 soon"))).toEqual([
      "records-not-a-date",
      "suggest-date-form",
      { style: "year-month-day" },
    ]);
    const style = reader("date", {}, { dateStyle: "day-month-year" });
    expect(fault(style("07/25/2025"))).toEqual([
      "records-other-date-style",
      "suggest-date-style",
      { style: "day-month-year" },
    ]);
  });

  it("known roughly is the days it may be", () => {
    const rough = reader("rough date");
    expect(rough("2025-07-01")).toEqual({
      value: { kind: "days", from: "2025-07-01", to: "2025-07-01" },
    });
    expect(rough("July 2025")).toEqual({
      value: { kind: "days", from: "2025-07-01", to: "2025-07-31" },
    });
    expect(fault(rough("long ago"))[0]).toBe("records-not-a-date");
  });
});

describe("a choice", () => {
  const coat = { choices: ["dry", "very wet"], alsoWritten: { d: "dry" }, blankIs: "dry" };
  it("is found whatever its case, spaces and underscores, and by its other spellings", () => {
    const read = reader("choice", coat);
    expect([read("DRY"), read("Very_wet"), read(" very  wet"), read("D")]).toEqual([
      { value: "dry" },
      { value: "very wet" },
      { value: "very wet" },
      { value: "dry" },
    ]);
  });

  it("that is none is left blank and told, and a fault where it is needed", () => {
    expect(reader("choice", coat)("soggy")).toEqual({
      value: "dry",
      unread: true,
      notice: {
        code: "records-choice-left-blank",
        parameters: { written: "soggy", choices: ["dry", "very wet"] },
      },
    });
    expect(fault(reader("choice", { ...coat, required: true })("soggy"))).toEqual([
      "records-unknown-choice",
      "suggest-choices",
      { choices: ["dry", "very wet"] },
    ]);
    expect(noticed(reader("choice")("toString"))).toEqual([
      null,
      "records-choice-left-blank",
      { written: "toString", choices: [] },
    ]);
  });
});

describe("a cell of an order", () => {
  it("is kept as written, read or not, a word for unknown included", () => {
    const amount = reader("ordered amount");
    expect(amount("46 g")).toEqual({ value: { words: "46 g", value: { amount: 46, unit: "g" } } });
    expect(amount("unknown")).toEqual({
      value: { words: "unknown", value: null },
      notice: { code: "records-order-as-written", parameters: { value: "unknown" } },
    });
    expect(amount("n/a")).toEqual({ value: null });
    expect(reader("ordered feeds")("8")).toEqual({ value: { words: "8", value: 8 } });
  });
});

describe("a notice made of its parts", () => {
  it("has its level and its place", () => {
    const place = { file: "feeds.csv", line: 3 };
    expect(placed({ code: "records-empty-cell", parameters: {} }, "problem", place)).toEqual({
      code: "records-empty-cell",
      level: "problem",
      parameters: {},
      place,
    });
  });
});
