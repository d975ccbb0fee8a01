import fc from "fast-check";
import { Temporal } from "temporal-polyfill";
import { describe, expect, it } from "vitest";
import {
  addDays,
  ageInDays,
  civilDayOf,
  daysBetween,
  feedingDayOf,
  feedingDaySpan,
  feedingDays,
  isCivilDate,
  localNoon,
  readLocal,
} from "../../src/units/calendar.js";
import { localText } from "../../src/units/format-date.js";
import { isZone, zoneClock } from "../../src/units/zone.js";

const zones = [
  "UTC",
  "Europe/Berlin",
  "America/Los_Angeles",
  "America/St_Johns",
  "Australia/Lord_Howe", // half-hour summer time
  "Pacific/Auckland",
  "Pacific/Apia", // left out 2011-12-30 altogether
  "Asia/Kathmandu",
  "Africa/Casablanca",
];
const instants = fc.integer({ min: Date.UTC(1975, 0, 1), max: Date.UTC(2060, 0, 1) });

/** The reference is Temporal, the language's own calendar proposal, in its polyfill. */
describe("the cached clock of a zone", () => {
  it("has Temporal's offset at any instant", () => {
    fc.assert(
      fc.property(fc.constantFrom(...zones), instants, (zone, at) => {
        const theirs = Temporal.Instant.fromEpochMilliseconds(at).toZonedDateTimeISO(zone);
        expect(zoneClock(zone).offsetAt(at)).toBe(theirs.offsetNanoseconds / 1e6);
        expect(civilDayOf(at, zone)).toBe(theirs.toPlainDate().toString());
      }),
      { seed: 20250301, numRuns: 2000 },
    );
  });

  it("reads local times as Temporal does, telling absent and doubled ones apart", () => {
    fc.assert(
      fc.property(fc.constantFrom(...zones), instants, (zone, local) => {
        const wall = Temporal.Instant.fromEpochMilliseconds(local)
          .toZonedDateTimeISO("UTC")
          .toPlainDateTime();
        const at = (disambiguation: "earlier" | "later") =>
          wall.toZonedDateTime(zone, { disambiguation }).epochMilliseconds;
        const exists = (x: number) => x + zoneClock(zone).offsetAt(x) === local;
        const [early, late] = [at("earlier"), at("later")];
        const mine = readLocal(local, zone);
        if (early === late) expect(mine).toEqual({ kind: "instant", at: early });
        else if (exists(early))
          expect(mine).toEqual({ kind: "happens twice", first: early, second: late });
        else expect(mine.kind).toBe("does not exist");
      }),
      { seed: 20250302, numRuns: 2000 },
    );
  });

  it("meets the hours around every change of the clocks", () => {
    for (const zone of zones) {
      for (const year of [2011, 2023, 2024, 2025]) {
        let at = Temporal.PlainDate.from(`${year}-01-01`).toZonedDateTime(zone);
        for (;;) {
          const next = at.getTimeZoneTransition("next");
          if (next === null || next.year > year) break;
          for (let m = -180; m <= 180; m += 15) {
            const x = next.epochMilliseconds + m * 60_000;
            const local = x + zoneClock(zone).offsetAt(x);
            const mine = readLocal(local, zone);
            const back =
              mine.kind === "happens twice"
                ? [mine.first, mine.second]
                : [mine.kind === "instant" ? mine.at : -1];
            expect(back).toContain(x);
          }
          at = next;
        }
      }
    }
  });

  it("knows which names are zones", () => {
    expect(["UTC", "Europe/Berlin", "Etc/GMT+3"].map(isZone)).toEqual([true, true, true]);
    expect(["", "Mars/Olympus", "+02:00", "__proto__", "Europe/Berlin; x"].map(isZone)).toEqual([
      false,
      false,
      false,
      false,
      false,
    ]);
    expect(() => zoneClock("Mars/Olympus")).toThrow(/IANA/);
  });
});

describe("feeding days", () => {
  it("have 23 and 25 hours where the clocks change inside them", () => {
    // Central European clock changes of 2025: 30 March 02:00 and 26 October 03:00 (EU Directive 2000/84/EC).
    const hours = (day: string, start: number) => feedingDaySpan(day, "Europe/Berlin", start).hours;
    expect(hours("2025-03-29", 6)).toBe(23);
    expect(hours("2025-03-30", 6)).toBe(24);
    expect(hours("2025-03-30", 0)).toBe(23);
    expect(hours("2025-10-25", 6)).toBe(25);
    expect(hours("2025-10-26", 0)).toBe(25);
    // A night from 22:00 to 06:00 over the spring change lasts 7 hours, over the autumn one 9.
    const span = (a: string, b: string) => {
      const at = (t: string) => {
        const r = readLocal(Date.parse(`${t}Z`), "Europe/Berlin");
        if (r.kind !== "instant") throw new Error(t);
        return r.at;
      };
      return (at(b) - at(a)) / 3_600_000;
    };
    expect(span("2025-03-29T22:00", "2025-03-30T06:00")).toBe(7);
    expect(span("2025-10-25T22:00", "2025-10-26T06:00")).toBe(9);
  });

  it("begin at the change where their hour does not exist", () => {
    const day = feedingDaySpan("2025-03-30", "Europe/Berlin", 2);
    expect(localText(day.from, "Europe/Berlin")).toBe("2025-03-30 03:00");
    expect(day.hours).toBe(23);
  });

  it("hold every instant exactly once, end to end", () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...zones),
        fc.integer({ min: Date.UTC(2005, 0, 1), max: Date.UTC(2035, 0, 1) }),
        fc.integer({ min: 0, max: 23 }),
        (zone, at, start) => {
          const day = feedingDayOf(at, zone, start);
          const span = feedingDaySpan(day, zone, start);
          expect(at >= span.from && at < span.to).toBe(true);
          const list = feedingDays(at - 3e8, at + 3e8, zone, start);
          expect(list.filter((d) => at >= d.from && at < d.to).map((d) => d.day)).toEqual([day]);
          for (let i = 1; i < list.length; i++) expect(list[i]!.from).toBe(list[i - 1]!.to);
        },
      ),
      { seed: 20250303, numRuns: 500 },
    );
  });
});

describe("ages and dates", () => {
  it("counts ages in days from local noon of the birth date", () => {
    expect(ageInDays(Date.parse("2025-07-11T18:00Z"), "2025-07-01", "UTC")).toBe(10.25);
    // Over the spring change a local day is an hour short, and the age says so.
    const noon = (day: string) => localNoon(day, "Europe/Berlin");
    expect(ageInDays(noon("2025-03-31"), "2025-03-29", "Europe/Berlin")).toBeCloseTo(
      2 - 1 / 24,
      12,
    );
  });

  it("knows a date that exists, written as files keep it, from one that does not", () => {
    expect(["2024-02-29", "1999-12-31"].every(isCivilDate)).toBe(true);
    for (const none of [
      "2025-02-29",
      "2025-13-01",
      "2025-00-10",
      "2025-1-5",
      "2025-01-05 06:00",
      "",
    ])
      expect(isCivilDate(none), none).toBe(false);
  });

  it("adds and counts civil days", () => {
    expect(addDays("2024-02-28", 1)).toBe("2024-02-29");
    expect(addDays("2025-12-31", 1)).toBe("2026-01-01");
    expect(daysBetween("2024-02-28", "2024-03-01")).toBe(2);
  });
});
