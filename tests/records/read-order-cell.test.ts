import { describe, expect, it } from "vitest";
import { type OrderReading, readOrderCell } from "../../src/records/read-order-cell.js";

/** What a keeper reads from each cell, written by hand. */
const how = (holds: string, more: Partial<OrderReading> = {}): OrderReading => ({
  holds,
  zone: "UTC",
  startHour: 6,
  dateStyle: "year-month-day",
  decimal: "point",
  unit: null,
  ...more,
});
const read =
  (holds: string, more: Partial<OrderReading> = {}) =>
  (text: string) =>
    readOrderCell(text, how(holds, more))?.value;

describe("any cell of an order", () => {
  it("is kept word for word, spaces made one, and null where it cannot be read", () => {
    expect(readOrderCell("  half   of it ", how("ordered amount"))).toEqual({
      words: "half of it",
      value: null,
    });
    expect(readOrderCell("45 mL", how("ordered amount"))).toEqual({
      words: "45 mL",
      value: { amount: 45, unit: "mL" },
    });
  });

  it.each(["-", "--", "n/a", "NA", "null"])("'%s' is a blank one", (text) => {
    expect(readOrderCell(text, how("ordered amount"))).toBeNull();
  });

  it("a minus before a number, or a word that begins like a blank, is none", () => {
    expect(readOrderCell("-5", how("ordered amount"))).toEqual({ words: "-5", value: null });
    expect(readOrderCell("nap", how("ordered amount"))).toEqual({ words: "nap", value: null });
    expect(readOrderCell("see n/a", how("ordered amount"))!.value).toBeNull();
  });
});

describe("an ordered amount", () => {
  const amount = read("ordered amount");
  it("has its own unit, else that of its column, else grams", () => {
    expect(amount("46")).toEqual({ amount: 46, unit: "g" });
    expect(amount("46 kcal")).toEqual({ amount: 46, unit: "kcal" });
    expect(read("ordered amount", { unit: "mL" })("46")).toEqual({ amount: 46, unit: "mL" });
    expect(read("ordered amount", { unit: "mL" })("46 g")).toEqual({ amount: 46, unit: "g" });
    expect(read("ordered amount", { decimal: "comma" })("46,5")).toEqual({
      amount: 46.5,
      unit: "g",
    });
    expect(amount("0")).toEqual({ amount: 0, unit: "g" });
  });

  it("is nothing by mouth in the usual spellings", () => {
    for (const words of ["NPO", "nil by mouth", "nothing by mouth"])
      expect(amount(words)).toBe("nil by mouth");
  });

  it("below nothing, of degrees or beyond five tons is none", () => {
    for (const words of ["-1 g", "38 degC", "5000001"]) expect(amount(words)).toBeNull();
    expect(amount("5000000")).toEqual({ amount: 5_000_000, unit: "g" });
  });
});

describe("ordered feeds a day", () => {
  const feeds = read("ordered feeds");
  it.each([
    ["8", 8],
    ["8x", 8],
    ["x 8", 8],
    ["8 times", 8],
    ["8 feeds", 8],
    ["1 feed", 1],
    ["8/d", 8],
    ["8 / day", 8],
    ["8 feeds a day", 8],
    ["8 per day", 8],
    ["8 daily", 8],
    ["7.5", 7.5],
    ["0", 0],
    ["96", 96],
    ["q3h", 8],
    ["q 3 h", 8],
    ["every 3 hours", 8],
    ["every 2.5 hrs", null],
    ["every 1,5 h", 16],
    ["4 hourly", 6],
    ["4-hourly", 6],
    ["every hour", null],
    ["every 5 h", null],
    ["97", null],
    ["-8", null],
    ["eight or nine", null],
    ["q3d", null],
    ["see q3h sheet", null],
    ["q3h or so", null],
    ["8 feeds of it", null],
    ["about 8", null],
  ])("'%s' are %s", (words, n) => {
    expect(feeds(words)).toBe(n);
  });

  it("in half-hours are at most 96, and names of a number are that number", () => {
    expect(feeds("every 0.25 h")).toBe(96);
    expect(feeds("every 0.2 h")).toBeNull();
    expect(feeds("twice a day")).toBe(2);
    expect(feeds("twice daily")).toBe(2);
    expect(feeds("NPO")).toBe("nil by mouth");
  });
});

describe("ordered times", () => {
  const times = read("ordered times");
  it.each([
    ["08:00 12:00", ["08:00", "12:00"]],
    ["8, 12; 16", ["08:00", "12:00", "16:00"]],
    ["8:00/12:30|16.15", ["08:00", "12:30", "16:15"]],
    ["0800 + 1230 & 20h", ["08:00", "12:30", "20:00"]],
    ["8am and 8 pm", ["08:00", "20:00"]],
    ["8:30am 12pm 12am", ["00:00", "08:30", "12:00"]],
    ["20:00, 08:00, 20:00", ["08:00", "20:00"]],
    ["24:00", ["00:00"]],
    ["1pm", ["13:00"]],
    ["noon", ["12:00"]],
    ["24:01", null],
    ["25:00", null],
    ["8:60", null],
    ["8:59", ["08:59"]],
    ["13pm", null],
    ["0am", null],
    ["12:00 late", null],
    ["123456", null],
    ["x8:00", null],
    ["8:00y", null],
  ])("'%s' are %j", (words, expected) => {
    expect(times(words)).toEqual(expected);
  });

  it("of separators alone are none", () => {
    expect(times(", ;")).toBeNull();
  });
});

describe("ordered days", () => {
  const days = read("ordered days");
  const week = (...d: readonly number[]) => ({ kind: "week", days: d });
  it.each([
    ["Mon, Wed, Fri", week(1, 3, 5)],
    ["Monday and Thursday", week(1, 4)],
    ["mon wed", week(1, 3)],
    ["Mon-Fri", week(1, 2, 3, 4, 5)],
    ["Sat to Mon", week(1, 6, 7)],
    ["Fri until Sun", week(5, 6, 7)],
    ["Sundays", week(7)],
    ["tue.", week(2)],
    ["Mon-Tue; Sat", week(1, 2, 6)],
    ["Fri, Mon, Fri", week(1, 5)],
    ["every 3 days", { kind: "every", days: 3 }],
    ["q2d", { kind: "every", days: 2 }],
    ["every 31 d", { kind: "every", days: 31 }],
    ["every 32 d", null],
    ["every 0 d", null],
    ["Mon-Xyz", null],
    ["Xyz-Mon", null],
    ["someday", null],
    ["first every 3 days", null],
  ])("'%s' are %j", (words, expected) => {
    expect(days(words)).toEqual(expected);
  });

  it("by name are those of the name", () => {
    expect(days("every other day")).toEqual({ kind: "every", days: 2 });
    expect(days("weekdays")).toEqual(week(1, 2, 3, 4, 5));
  });
});

describe("the end of an order", () => {
  const end = (text: string, more: Partial<OrderReading> = {}) =>
    readOrderCell(text, how("ordered end", more));
  it("is the instant written; a date includes its whole feeding day", () => {
    expect(end("2025-05-03 14:00")!.value).toBe(Date.UTC(2025, 4, 3, 14));
    expect(end("2025-05-03")!.value).toBe(Date.UTC(2025, 4, 4, 6));
    expect(end("2025-05-03", { startHour: 0 })!.value).toBe(Date.UTC(2025, 4, 4));
    expect(end("2025-05-03", { zone: "Asia/Tokyo" })!.value).toBe(Date.UTC(2025, 4, 3, 21));
    expect(end("03/05/2025", { dateStyle: "day-month-year" })!.value).toBe(Date.UTC(2025, 4, 4, 6));
  });

  it("that happens twice is the later one: food is not ended too early", () => {
    // The night of 26 October 2025, half past two, in Berlin.
    expect(end("2025-10-26 02:30", { zone: "Europe/Berlin" })!.value).toBe(
      Date.UTC(2025, 9, 26, 1, 30),
    );
  });

  it("that is open is no end at all, and one that cannot be read is kept", () => {
    expect(end("until replaced")).toBeNull();
    expect(end("when she is better")).toEqual({ words: "when she is better", value: null });
    expect(end("2025-02-30")!.value).toBeNull();
  });
});
