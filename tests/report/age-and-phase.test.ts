import { describe, expect, it } from "vitest";
import type { AnimalAnalysis } from "../../src/analysis/study-analysis.js";
import { noticeText } from "../../src/core/catalogue.js";
import { notice } from "../../src/core/notice.js";
import { ageAndPhase } from "../../src/report/day/age-and-phase.js";
import { columnWords } from "../../src/report/day/column-words.js";
import { screenWording } from "../../src/units/format.js";

const animal = (more: {
  readonly phase?: string | null;
  readonly weighed?: { readonly ageD: number | null; readonly feedingDay: string } | null;
  readonly birth?: number | null;
  readonly feeds?: number;
}) =>
  ({
    phase: more.phase ?? null,
    last: more.weighed ?? null,
    series: {
      age: { birth: more.birth ?? null },
      feeds: Array.from({ length: more.feeds ?? 0 }),
      sharedFeeds: [],
    },
  }) as unknown as AnimalAnalysis;
const told = (each: AnimalAnalysis) => ageAndPhase("2025-07-16", "UTC", each);

describe("how old an animal is on a page of the day", () => {
  it("counts to the day, however long ago it was weighed", () => {
    const weighed = { ageD: 22.4, feedingDay: "2025-05-10" };
    expect(told(animal({ weighed }))).toBe("89 days");
    expect(told(animal({ weighed: { ageD: 61.8, feedingDay: "2025-07-16" } }))).toBe("61 days");
    expect(told(animal({ birth: Date.parse("2025-07-15T12:00Z") }))).toBe("1 day");
    expect(told(animal({}))).toBe("age not known");
  });

  it("names no phase that only food could tell, where none is written", () => {
    const weighed = { ageD: 3, feedingDay: "2025-07-16" };
    expect(told(animal({ weighed, phase: "milk" }))).toBe("3 days");
    expect(told(animal({ weighed, phase: "milk", feeds: 2 }))).toBe("3 days, milk");
    expect(told(animal({ weighed, phase: "arrival" }))).toBe("3 days, arrival");
  });
});

it("a column is named as people say it", () => {
  const said = ["tare_g", "animal_id", "at", "refused_g", "g_per_feed", "ordered_by"];
  expect(said.map(columnWords)).toEqual([
    "tare",
    "animal",
    "time",
    "refused",
    "grams a feed",
    "ordered by",
  ]);
});

it("an old weighing is so many days old, not hundreds of hours", () => {
  const text = (hours: number) =>
    noticeText(
      notice("level-weigh-first", "caution", { animal: "Mica", hours, limit: 36 }),
      screenWording(),
    );
  expect(text(39.5)).toContain("39.5 h old (limit 36 h)");
  expect(text(1615)).toContain("67 days old (limit 36 h)");
});
