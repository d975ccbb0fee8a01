import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { firstWeek } from "../../src/rates/first-week.js";
import { keptIntake } from "../../src/rates/kept-intake.js";
import { seaOtter } from "../../src/species/sea-otter.js";
import { day, hour, smallSeries, start } from "./small-study.js";

const admittedAt = start + 2 * hour;
const newcomer = () =>
  smallSeries({
    animal: { admittedAt },
    weighings: [
      [admittedAt + hour, 2000],
      [admittedAt + 25 * hour, 1940],
    ],
    feeds: [4, 7, 10, 13].map((h) => ({
      at: admittedAt + h * hour,
      dietId: "formula",
      offeredG: 50,
      refusedG: 10,
    })),
    observations: [
      { at: admittedAt + hour, kind: "temperature", valueText: "36.9" },
      { at: admittedAt + 9 * hour, kind: "temperature", valueText: "37.8" },
      { at: admittedAt + 2 * hour, kind: "behaviour", valueText: "quiet" },
      { at: admittedAt + 5 * hour, kind: "urine", valueText: "none" },
      { at: admittedAt + 8 * hour, kind: "urine", valueText: "clear" },
      { at: admittedAt + 11 * hour, kind: "vomit", valueText: "once" },
      { at: admittedAt + 14 * hour, kind: "regurgitation", valueText: "once, 5 g" },
    ],
  });

const loss = { look: 5, danger: 10, source: "common practice" };

describe("the first week of a newcomer", () => {
  const week = firstWeek(newcomer(), { at: admittedAt + 30 * hour, profile: seaOtter, loss })!;

  it("holds hours, mass against admission, signs, first outputs, and what went in and stayed", () => {
    expect(week.hours).toBe(30);
    expect(week.masses.map((m) => Number(m.changePct.toFixed(6)))).toEqual([0, -3]);
    expect(week.signs.find((s) => s.kind === "temperature")).toMatchObject({ times: 2 });
    // "none" at 5 h was no urine; no stool at all was seen.
    expect([week.firstUrineH, week.firstStoolH]).toEqual([8, null]);
    // Four feeds of 40 g eaten. The vomit at 11 h had the feeds of 7 and 10 h before it, 80 g,
    // and was not weighed; 5 g came up at 14 h.
    expect(week.intake.eatenG).toMatchObject({ low: 160, high: 160 });
    expect(week.intake.keptG).toEqual({ low: 75, high: 155, value: null });
    expect(week.missing).toEqual([
      "glucose",
      "hydration",
      "suckle",
      "length",
      "condition score",
      "exam",
    ]);
  });

  it("says of every expectation where it is from", () => {
    const said = week.expectations.map((n) => noticeText(n));
    expect(said).toHaveLength(4);
    for (const each of said) expect(each).toMatch(/common practice|Williams & Kocher/);
  });

  it("ends after seven days, and needs an admission", () => {
    const at = admittedAt + 7 * day + hour;
    expect(firstWeek(newcomer(), { at, profile: seaOtter, loss })).toBeNull();
    const unknown = { ...newcomer() };
    const bare = { ...unknown, animal: { ...unknown.animal, admittedAt: null } };
    expect(firstWeek(bare, { at: admittedAt + day, profile: seaOtter, loss })).toBeNull();
  });
});

describe("eaten and kept", () => {
  it("never keeps more than was eaten, nor less than nothing, and counts each line once", () => {
    const series = newcomer();
    const all = keptIntake(series, start, admittedAt + 2 * day);
    expect(all.times).toBe(2);
    expect(all.cameUpG).toEqual({ low: 5, high: 85, value: null });
    const early = keptIntake(series, start, admittedAt + 10 * hour);
    expect(early.keptG).toEqual({ low: 120, high: 120, value: 120 });
  });
});
