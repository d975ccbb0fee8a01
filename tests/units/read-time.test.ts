import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { localText } from "../../src/units/format-date.js";
import { dateStyleOf, exchangeDayMonth, readDate, readTime } from "../../src/units/read-time.js";

const utc = (text: string) => ({ kind: "instant", at: Date.parse(text), dateOnly: false });

describe("reading a time", () => {
  it("understands the ways people write one", () => {
    const read = (text: string, style: "year-month-day" | "day-month-year" | "month-day-year") =>
      readTime(text, "UTC", style);
    const wanted = utc("2025-07-01T06:10Z");
    for (const text of [
      "2025-07-01 06:10",
      "2025-07-01T06:10",
      "2025-07-01T06:10:00",
      "2025-07-01 06:10:00.000",
      "2025/7/1 6:10",
      "2025-07-01 6:10 am",
      "2025-07-01T08:10+02:00",
      "2025-07-01T06:10Z",
      "1 Jul 2025 06:10",
      "July 1, 2025 6:10 AM",
      " 2025-07-01   06:10 ",
    ])
      expect(read(text, "year-month-day"), text).toEqual(wanted);
    expect(read("01.07.2025 06:10", "day-month-year")).toEqual(wanted);
    expect(read("01.07.25, 6.10".replace("6.10", "6:10"), "day-month-year")).toEqual(wanted);
    expect(read("7/1/2025 6:10", "month-day-year")).toEqual(wanted);
    expect(read("2025-07-01 12:00 am", "year-month-day")).toEqual(utc("2025-07-01T00:00Z"));
    expect(read("2025-07-01 12:30 pm", "year-month-day")).toEqual(utc("2025-07-01T12:30Z"));
  });

  it("asks about times that the clock change took or doubled", () => {
    const berlin = (text: string) => readTime(text, "Europe/Berlin", "year-month-day");
    expect(berlin("2025-03-30 02:30")).toEqual({ kind: "does not exist" });
    expect(berlin("2025-10-26 02:30")).toEqual({
      kind: "happens twice",
      first: Date.parse("2025-10-26T00:30Z"),
      second: Date.parse("2025-10-26T01:30Z"),
    });
    expect(berlin("2025-10-26 02:30+01:00")).toEqual(utc("2025-10-26T01:30Z"));
    expect(berlin("2025-03-30 03:00")).toEqual(utc("2025-03-30T01:00Z"));
  });

  it("refuses what is none", () => {
    for (const text of [
      "",
      "yesterday",
      "2025-02-30 06:00",
      "2025-13-01",
      "2025-07-01 24:10",
      "2025-07-01 06:60",
      "2025-07-01 6",
      "2025-07-01 13:00 pm",
      "06:10",
      "45000",
      "0025-07-01 06:10",
    ])
      expect(readTime(text, "UTC", "year-month-day").kind, text).toBe("not a time");
    expect(readTime("18/06/2024 15:00", "UTC", "year-month-day")).toEqual({
      kind: "other date style",
    });
    expect(readTime("18/06/2024 15:00", "UTC", "month-day-year")).toEqual({
      kind: "other date style",
    });
  });

  it("gives back what localText wrote, except in a doubled hour", () => {
    fc.assert(
      fc.property(
        fc.constantFrom("UTC", "Europe/Berlin", "Pacific/Auckland", "America/St_Johns"),
        fc.integer({ min: Date.UTC(1971, 0, 1) / 60_000, max: Date.UTC(2100, 0, 1) / 60_000 }),
        (zone, minute) => {
          const at = minute * 60_000;
          const read = readTime(localText(at, zone), zone, "year-month-day");
          if (read.kind === "happens twice") expect([read.first, read.second]).toContain(at);
          else expect(read).toEqual({ kind: "instant", at, dateOnly: false });
        },
      ),
      { seed: 20250304, numRuns: 2000 },
    );
  });

  it("never throws, whatever comes", () => {
    fc.assert(
      fc.property(fc.string({ unit: "binary" }), (text) => {
        readTime(text, "Europe/Berlin", "day-month-year");
        readDate(text, "month-day-year");
      }),
      { seed: 20250305, numRuns: 2000 },
    );
  });
});

describe("dates in other styles", () => {
  it("tells which order a date is written in", () => {
    expect(dateStyleOf("2025-07-01")).toBe("year-month-day");
    expect(dateStyleOf("25.07.2025 10:00")).toBe("day-month-year");
    expect(dateStyleOf("07/25/2025")).toBe("month-day-year");
    expect(dateStyleOf("07/06/2025")).toBe("either");
    expect(dateStyleOf("soon")).toBeNull();
  });
  it("exchanges day and month", () => {
    expect(exchangeDayMonth("2025-04-07")).toBe("2025-07-04");
    expect(exchangeDayMonth("2025-04-27")).toBeNull();
    expect(exchangeDayMonth("2025-04-04")).toBeNull();
  });
});
