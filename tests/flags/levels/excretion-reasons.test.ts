import { describe, expect, it } from "vitest";
import {
  excretionIsJudged,
  excretionReasons,
} from "../../../src/flags/levels/excretion-reasons.js";
import { hour, start } from "../../rates/small-study.js";
import { at, type CaseParts, caseOf, seen } from "./case-of.js";

/** Limits: common practice of the project, 48 h in the very young, urine "none" over 24 h. */
const of = (parts: CaseParts, over: Parameters<typeof caseOf>[1] = {}) =>
  excretionReasons(caseOf(parts, over));
const whats = (...a: Parameters<typeof of>) => of(...a).map((r) => `${r.level}: ${r.what}`);
/** Lines of urine that keep it from being asked about. */
const passed = [3, "urine", "clear"] as const;

describe("no stool or no urine written", () => {
  it.each([
    ["stool", "no stool", "formed", [3, "urine", "clear"] as const],
    ["urine", "no urine", "clear", [3, "stool", "formed"] as const],
  ] as const)("of %s for 48 h is a danger in the very young", (kind, what, words, other) => {
    const last = (hoursBack: number) => of(seen([hoursBack, kind, words], other));
    expect(last(47.9)).toEqual([]);
    const [reason, ...more] = last(48);
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "danger",
      what,
      at: at - 48 * hour,
      act: "call now, feed as ordered",
      byAt: at,
      size: { unit: "h", outwards: "higher", step: 12 },
    });
    expect(reason!.size!.value).toBeCloseTo(48, 6);
  });

  it("is measured until anybody wrote anything", () => {
    const parts = seen([60, "stool", "formed"], [58, "urine", "clear"]);
    expect(whats(parts, { heard: at - 13 * hour })).toEqual([]);
    expect(whats(parts, { heard: at - 12 * hour })).toEqual(["danger: no stool"]);
  });

  it("of an animal that never passed any is dated from its admission, where others' are written", () => {
    const c = caseOf({ ...seen(passed), animal: { admittedAt: at - 60 * hour } });
    const written = { ...c.written, habit: () => ({ days: 40, gapsPct: 0, animals: 0 }) };
    const [reason, ...more] = excretionReasons({ ...c, written });
    expect(more).toEqual([]);
    expect(reason).toMatchObject({ level: "danger", what: "no stool", at: at - 60 * hour });
    // What is judged as missing is not asked about a second time.
    const none = caseOf({ animal: { admittedAt: at - 60 * hour } });
    expect(excretionReasons({ ...none, written }).map((r) => r.what)).toEqual([
      "no stool",
      "no urine",
    ]);
  });

  it("counts a line of now, and none of tomorrow", () => {
    expect(whats(seen([0, "stool", "formed"], passed))).toEqual([]);
    expect(whats(seen([60, "stool", "formed"], [-1, "stool", "formed"], passed))).toEqual([
      "danger: no stool",
    ]);
  });

  it("is no rule for older ones", () => {
    expect(whats(seen([60, "stool", "formed"]), { ageD: 28 })).toEqual([]);
    expect(whats(seen([60, "stool", "formed"], passed), { ageD: 27.9 })).toEqual([
      "danger: no stool",
    ]);
  });

  it("is not told where the limit is switched off", () => {
    const off = { ...seen([60, "stool", "formed"], passed), limits: { stoolH: null } };
    expect(whats(off)).toEqual([]);
  });
});

describe("urine written as none", () => {
  const none = (...hoursBack: readonly number[]) =>
    seen([1, "stool", "formed"], ...hoursBack.map((h) => [h, "urine", "none"] as const));
  const grown = { ageD: 200, veryYoung: false };

  it("twice over 24 h is a danger at every age, one more line is further", () => {
    const [reason, ...more] = of(none(26, 2), grown);
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "danger",
      what: "no urine",
      at: at - 26 * hour,
      act: "call now, feed as ordered",
      byAt: at,
      size: { value: 2, unit: "lines", outwards: "higher", step: 1 },
    });
    expect(reason!.sentence.parameters).toMatchObject({ hours: 24, times: 2, at: at - 2 * hour });
    expect(whats(none(25.9, 2), grown)).toEqual([]);
  });

  it("counts from the last that was there", () => {
    const since = (last: number) =>
      whats(
        seen(
          [1, "stool", "formed"],
          [last, "urine", "clear"],
          [10, "urine", "none"],
          [2, "urine", "none"],
        ),
        grown,
      );
    expect(since(26)).toEqual(["danger: no urine"]);
    expect(since(25.9)).toEqual([]);
    const between = seen(
      [1, "stool", "formed"],
      [40, "urine", "none"],
      [20, "urine", "clear"],
      [2, "urine", "none"],
    );
    expect(whats(between, grown)).toEqual([]);
    const after = seen(
      [1, "stool", "formed"],
      [40, "urine", "none"],
      [20, "urine", "none"],
      [2, "urine", "clear"],
    );
    expect(whats(after, grown)).toEqual([]);
  });

  it("is not told by lines that say something else, or nothing that can be read", () => {
    const unread = seen(
      [1, "stool", "formed"],
      [40, "urine", "none"],
      [30, "urine", "???"],
      [2, "urine", "not looked"],
    );
    expect(whats(unread, grown)).toEqual([]);
    const three = seen(
      [1, "stool", "formed"],
      [40, "urine", "none"],
      [20, "urine", "none"],
      [10, "urine", "none"],
    );
    expect(of(three, grown)[0]!.sentence.parameters).toMatchObject({ times: 3, hours: 30 });
  });

  it("once is none, however long ago there was any", () => {
    expect(
      whats(seen([1, "stool", "formed"], [40, "urine", "clear"], [2, "urine", "none"]), grown),
    ).toEqual([]);
  });

  it("is old when its last line is two days old", () => {
    expect(whats(none(80, 47.9), grown)).toEqual(["danger: no urine"]);
    expect(whats(none(80, 48), grown)).toEqual([]);
  });

  it("is told instead of no urine written, and not where it is switched off", () => {
    const both = seen(
      [1, "stool", "formed"],
      [80, "urine", "clear"],
      [30, "urine", "none"],
      [2, "urine", "none"],
    );
    expect(of(both).map((r) => [r.what, r.size?.unit])).toEqual([["no urine", "lines"]]);
    expect(
      of({ ...both, limits: { urineNoneH: null } }).map((r) => [r.what, r.size?.unit]),
    ).toEqual([["no urine", "h"]]);
    const off = { ...none(26, 2), limits: { urineNoneH: null } };
    expect(whats(off, grown)).toEqual([]);
  });
});

describe("a newcomer of which neither was ever written", () => {
  const came = (hoursBack: number, more: CaseParts = {}) => ({
    animal: { admittedAt: at - hoursBack * hour },
    ...more,
  });

  it("is looked at after 48 h, for a week", () => {
    expect(whats(came(47.9))).toEqual([]);
    const [reason, ...more] = of(came(48));
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "measure first",
      what: "no output written",
      at: at - 48 * hour,
      byAt: at,
    });
    expect(reason!.sentence.parameters).toMatchObject({ hours: 48, kinds: ["stool", "urine"] });
    expect(of(came(48), { nextFeedAt: at + hour })[0]!.byAt).toBe(at + hour);
    expect(whats(came(48 + 168 - 0.1))).toHaveLength(1);
    expect(whats(came(48 + 168))).toEqual([]);
  });

  it("is asked about what was not written, until somebody wrote", () => {
    const kinds = (parts: CaseParts, over = {}) => of(parts, over)[0]?.sentence.parameters["kinds"];
    expect(kinds(came(60, seen([3, "urine", "clear"])))).toEqual(["stool"]);
    expect(kinds(came(60, seen([3, "stool", "formed"])))).toEqual(["urine"]);
    expect(kinds(came(60), { heard: at - 12.1 * hour })).toBeUndefined();
    expect(kinds({ ...came(60), limits: { stoolH: null } })).toEqual(["urine"]);
    expect(kinds({ ...came(60), limits: { urineH: 61 } })).toEqual(["stool"]);
  });

  it("is not asked about when it is older, or nobody knows when it came", () => {
    expect(whats(came(60), { veryYoung: false })).toEqual([]);
    expect(whats({ animal: { admittedAt: null } })).toEqual([]);
  });
});

describe("whether absence can be told", () => {
  it("needs a line of both", () => {
    const judged = (parts: CaseParts) => excretionIsJudged(caseOf(parts));
    expect(judged(seen([3, "stool", "formed"], passed))).toBe(true);
    expect(judged(seen([3, "stool", "formed"]))).toBe(false);
    expect(judged(seen(passed))).toBe(false);
    expect(judged({ animal: { admittedAt: start } })).toBe(false);
  });
});
