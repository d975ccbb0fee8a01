import { describe, expect, it } from "vitest";
import { notice } from "../../src/core/notice.js";
import { defaultLevelLimits } from "../../src/flags/levels/level-limits.js";
import { isLimit, limitsOfStudy } from "../../src/flags/levels/limits-of-study.js";
import { makeReason } from "../../src/flags/levels/make-reason.js";
import { oldAfterH } from "../../src/flags/levels/old-after.js";

const hour = 3_600_000;
const day = 24 * hour;

describe("a reason", () => {
  const sentence = notice("level-fed-while-nil", "problem", {
    feeds: 1,
    offered: 60,
    first: 0,
    since: 0,
  });
  const told = { what: "hot", sentence, at: 5 } as const;

  it.each([
    ["danger", true],
    ["measure first", true],
    ["second look", false],
    ["not judged", false],
  ] as const)("of the level %s makes suggestions wait: %s", (level, waits) => {
    expect(makeReason({ ...told, level }).suggestionsWait).toBe(waits);
  });

  it("has nothing to do, no size and no answer unless they are told", () => {
    expect(makeReason({ ...told, level: "second look" })).toEqual({
      ...told,
      level: "second look",
      act: null,
      byAt: null,
      size: null,
      suggestionsWait: false,
      answered: null,
      standingInstruction: null,
    });
    const more = makeReason({ ...told, level: "danger", act: "go and look now", byAt: 7 });
    expect([more.act, more.byAt]).toEqual(["go and look now", 7]);
    expect(makeReason({ ...told, level: "danger", suggestionsWait: false }).suggestionsWait).toBe(
      false,
    );
  });
});

describe("the age at which a reading is old", () => {
  const limits = { leastH: 36, mostH: 192, intervals: 1.25 };
  const now = 100 * day;
  const every = (hours: number, times: number, last = 0) =>
    Array.from({ length: times }, (_, i) => now - last * hour - (times - 1 - i) * hours * hour);
  const old = (taken: readonly number[]) => oldAfterH(taken, now, limits);

  it("is so many of its own usual intervals", () => {
    expect(old(every(48, 6))).toBe(60);
    expect(old(every(72, 4))).toBe(90);
  });

  it("is the least where no rhythm is known: three intervals are a rhythm, two are none", () => {
    expect(old([])).toBe(36);
    expect(old(every(72, 3))).toBe(36);
    expect(old(every(72, 4))).toBe(90);
  });

  it("stays within its limits", () => {
    expect(old(every(24, 10))).toBe(36);
    // 160 h apart would be 200 h.
    expect(oldAfterH(every(160, 4), now, { ...limits, mostH: 192 })).toBe(192);
  });

  it("takes readings within two hours for one occasion, and a little more for two", () => {
    const twice = every(48, 6).flatMap((t) => [t, t + 2 * hour]);
    expect(old(twice.filter((t) => t <= now))).toBe(60);
    const apart = every(48, 6, 3).flatMap((t) => [t, t + 2.1 * hour]);
    // Gaps of 2.1 h and 45.9 h by turns: the middle one is a short one.
    expect(old(apart)).toBe(36);
  });

  it("looks at the last 21 days alone, and at nothing later", () => {
    // Five old readings, every day; then every 60 h.
    const older = every(24, 8, 21 * 24);
    expect(old([...older, ...every(60, 5)])).toBe(75);
    expect(old([...every(60, 5), now + 3 * hour, now + 6 * hour, now + 9 * hour])).toBe(75);
    // One at the very instant counts, one 21 days before it does not.
    expect(old([now - 21 * day, now - 144 * hour, now - 72 * hour, now])).toBe(36);
    expect(old([now - 21 * day + 1, now - 144 * hour, now - 72 * hour, now])).toBe(90);
  });
});

describe("the limits of a study", () => {
  const of = (watchLimits: Record<string, unknown>) =>
    limitsOfStudy({ watchLimits } as Parameters<typeof limitsOfStudy>[0]);

  it("are the usual ones where nothing is written", () => {
    const { limits, notices } = limitsOfStudy({});
    expect(notices).toEqual([]);
    expect({ ...limits, feedPctOfMass: null }).toEqual({
      ...defaultLevelLimits,
      feedPctOfMass: null,
    });
  });

  it("are what is written, in either spelling of a name", () => {
    expect(of({ vomits: 3 }).limits.vomits).toBe(3);
    expect(of({ glucose_danger: defaultLevelLimits.glucoseDanger }).notices).toEqual([]);
    expect(of({ glucoseDanger: defaultLevelLimits.glucoseDanger }).notices).toEqual([]);
  });

  it("name an entry that is none, or has another form, and do not use it", () => {
    const { limits, notices } = of({ vomits: "three", vomitz: 2, silentH: 8 });
    expect([limits.vomits, limits.silentH]).toEqual([defaultLevelLimits.vomits, 8]);
    // A pair where one number belongs, one number or three where a pair does: neither is used.
    for (const wrong of [{ vomits: [2, 3] }, { glucoseLook: 60 }, { glucoseLook: [60, 200, 300] }])
      expect([of(wrong).notices.length, of(wrong).limits]).toEqual([1, limitsOfStudy({}).limits]);
    expect(of({ glucoseLook: null, vomits: null }).limits).toMatchObject({
      glucoseLook: null,
      vomits: null,
    });
    expect(notices.map((n) => n.parameters["name"])).toEqual(["vomits", "vomitz"]);
    expect(notices[0]!.code).toBe("level-limit-unknown");
    // The names are told as study.json writes them.
    expect(notices[0]!.parameters["known"]).toContain("glucose_danger");
    expect(isLimit("glucose_danger")).toBe(true);
    expect(isLimit("glucoseDanger")).toBe(true);
    expect(isLimit("vomitz")).toBe(false);
  });
});
