import { describe, expect, it } from "vitest";
import { measured } from "../../../src/core/measured.js";
import { notice } from "../../../src/core/notice.js";
import type { AnimalDay } from "../../../src/flags/animal-day/flag.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { flagReasons } from "../../../src/flags/levels/flag-reasons.js";
import type { LevelCase } from "../../../src/flags/levels/level-case.js";
import { makeReason } from "../../../src/flags/levels/make-reason.js";

/** The feeding day of 10 May runs from 06:00 to 06:00. */
const settings = { zone: "UTC", feedingDayStartHour: 6 };
const dayEnds = Date.UTC(2025, 4, 11, 6);
const sentence = notice("level-records-end", "problem", { end: 0, hours: 1 });
const signal = (kind: string, more: Partial<Signal> = {}) =>
  ({
    kind,
    class: "practice",
    direction: "low",
    raised: true,
    strength: 1.4,
    value: measured(1, "%"),
    threshold: 1,
    sentence,
    ...more,
  }) as unknown as Signal;
const listed = (raised: readonly Signal[], episode: AnimalDay["episode"] = null) =>
  ({ day: "2025-05-10", raised, episode, sentence }) as unknown as AnimalDay;
const of = (day: AnimalDay | null, at = dayEnds - 1, own: Parameters<typeof flagReasons>[1] = []) =>
  flagReasons({ day, at, settings } as unknown as LevelCase, own);
const episode = {} as NonNullable<AnimalDay["episode"]>;

describe("what the day's list raises", () => {
  it("is nothing where no list was made or nothing is raised on it", () => {
    expect(of(null)).toEqual([]);
    expect(of(listed([]))).toEqual([]);
  });

  it("asks for a second look, half a threshold further out is further, and suggestions go on", () => {
    expect(of(listed([signal("conversion")]))).toEqual([
      makeReason({
        level: "second look",
        what: "conversion",
        sentence,
        at: dayEnds - 1,
        size: { value: 1.4, unit: "times the threshold", outwards: "higher", step: 0.5 },
      }),
    ]);
    const [watched] = of(listed([signal("surprise sum", { class: "statistical" })]));
    expect(watched!.level).toBe("second look");
  });

  it("stands as a danger where the list has a danger that the levels do not judge themselves", () => {
    expect(of(listed([signal("no gain", { class: "danger" })]))[0]!.level).toBe("danger");
  });

  it.each([
    "acute loss",
    "loss",
    "no feed",
    "missed feed",
    "temperature",
    "no stool",
    "no urine",
    "signs",
    "entry not read",
    "glucose",
    "repeated vomit",
    "bloat",
    "blood",
    "convulsion",
    "cannot be roused",
    "not suckling",
    "trouble breathing",
    "dehydrated",
    "watery stool",
  ])("leaves '%s' to the levels, which judge it by the hour", (kind) => {
    expect(of(listed([signal(kind, { class: "danger" })]))).toEqual([]);
  });

  it("is dated to the end of its day where the day is over, and to now while it runs", () => {
    const at = (now: number) => of(listed([signal("refusals")]), now)[0]!.at;
    expect(at(dayEnds - 3)).toBe(dayEnds - 3);
    expect(at(dayEnds + 9)).toBe(dayEnds);
  });

  it("names an open episode only where nothing else stands", () => {
    const open = makeReason({ level: "second look", what: "episode open", sentence, at: dayEnds });
    expect(of(listed([], episode), dayEnds)).toEqual([open]);
    expect(of(listed([signal("refusals")], episode)).map((r) => r.what)).toEqual(["refusals"]);
    expect(of(listed([], episode), dayEnds, [open])).toEqual([]);
    expect(of(listed([signal("bloat")], episode)).map((r) => r.what)).toEqual(["episode open"]);
  });
});
