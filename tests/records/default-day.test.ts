import { describe, expect, it } from "vitest";
import { defaultDay } from "../../src/records/default-day.js";
import { study } from "./small-study.js";

const hours = Array.from({ length: 12 }, (_, i) => String(2 * i).padStart(2, "0"));
const feeds = ["2025-03-09", "2025-03-10"].flatMap((day) =>
  hours.map((h) => `P1,${day} ${h}:00,60,0`),
);
const fed = (...more: string[]) => ({
  "feeds.csv": `animal_id,at,offered_g,refused_g\n${[...feeds, ...more].join("\n")}\n`,
});
const weighed = (...rows: string[]) => ({
  "weighings.csv": `animal_id,at,mass_g,tare_g\n${rows.map((r) => `P1,${r},0`).join("\n")}\n`,
});
const usual = ["2025-03-09 07:00,2371", "2025-03-10 07:00,2380"];
const alone = (s: ReturnType<typeof study>) =>
  s.notices
    .filter((n) => n.code === "records-date-alone")
    .map((n) => [n.place?.table, n.place?.line]);

// The feeding day of the small study begins at 06:00, Europe/Berlin (UTC+1 in March).
describe("the default day", () => {
  it("is that of the newest row, whatever it is about", () => {
    const s = study({ ...fed(), ...weighed(...usual) });
    expect(defaultDay(s)).toMatchObject({ day: "2025-03-10", at: Date.parse("2025-03-10T21:00Z") });
    expect(alone(s)).toEqual([]);
  });
  it.each(["2062-03-10 07:00", "2025-04-12 07:00", "2025-10-03 07:00", "2025-03-13 07:00"])(
    "is not moved by a stray date (%s), which is doubted",
    (at) => {
      const s = study({ ...fed(), ...weighed(...usual, `${at},2390`) });
      expect(defaultDay(s).day).toBe("2025-03-10");
      expect(alone(s)).toEqual([["weighings", 4]]);
      expect(s.tables.weighings).toHaveLength(3);
    },
  );
  it("is moved by a row within 36 hours of another, and not by one a minute further", () => {
    const at = (time: string) =>
      defaultDay(study({ ...fed(`P1,${time},60,0`), ...weighed(...usual) }));
    expect(at("2025-03-12 10:00").day).toBe("2025-03-12"); // 36 h after 22:00 of the 10th
    expect(at("2025-03-12 10:01").day).toBe("2025-03-10");
  });
  it("is not moved by plans, however far they reach", () => {
    const s = study({
      ...fed(),
      ...weighed(...usual),
      "plans.csv":
        "animal_id,from,diet_id,g_per_feed\nP1,2025-03-11 06:00,milk,60\nP1,2025-03-12 06:00,milk,70\n",
    });
    expect(defaultDay(s).day).toBe("2025-03-10");
  });
  it("never lies after the clock, where a clock is given", () => {
    const ahead = fed("P1,2025-03-11 00:00,60,0", "P1,2025-03-11 07:00,60,0");
    const s = study({ ...ahead, ...weighed(...usual) });
    expect(defaultDay(s).day).toBe("2025-03-11");
    const now = Date.parse("2025-03-10T22:30Z");
    expect(defaultDay(s, { now })).toMatchObject({
      day: "2025-03-10",
      at: Date.parse("2025-03-10T21:00Z"),
      afterClock: 2,
      clockDoubted: false,
    });
  });
  it("does not follow a clock that most of the records contradict", () => {
    const s = study({ ...fed(), ...weighed(...usual) });
    expect(defaultDay(s, { now: Date.parse("2020-01-01T00:00Z") })).toMatchObject({
      day: "2025-03-10",
      clockDoubted: true,
    });
  });
  it("follows rows that are sparse throughout: one weighing a week", () => {
    const weekly = [
      "2025-03-09",
      "2025-03-16",
      "2025-03-23",
      "2025-03-30",
      "2025-04-06",
      "2025-04-13",
      "2025-04-20",
    ];
    const s = study(weighed(...weekly.map((day) => `${day} 07:00,2371`)));
    expect(defaultDay(s).day).toBe("2025-04-20");
    expect(alone(s)).toEqual([]);
  });
  it("doubts a date of the past that stands alone, too", () => {
    const s = study({ ...fed("P1,2004-03-09 08:00,60,0"), ...weighed(...usual) }, {});
    expect(defaultDay(s).day).toBe("2025-03-10");
    // It lies before the birth of P1 and is set aside for that already.
    expect(s.setAside.map((r) => r.reason.code)).toEqual(["records-before-birth"]);
  });
});
