import { describe, expect, it } from "vitest";
import { measureReasons } from "../../../src/flags/levels/measure-reasons.js";
import type { NetWeighing } from "../../../src/series/animal-series.js";
import { day, hour, start } from "../../rates/small-study.js";
import { at, type CaseParts, caseOf } from "./case-of.js";

/** 50 g eight times a day is ordered unless a test says otherwise. */
const plans = [{ from: start, gPerFeed: 50, feedsPerDay: 8 }];
const weighed = (...hoursBack: readonly number[]) =>
  hoursBack.map((back) => [at - back * hour, 2000] as const);
const raised = (parts: CaseParts, over: Parameters<typeof caseOf>[1] = {}) =>
  measureReasons(caseOf({ plans, ...parts }, over));
const whats = (...of: Parameters<typeof raised>) => raised(...of).map((r) => r.what);

describe("a weighing", () => {
  it("is asked for first when the last is over 36 h old", () => {
    expect(whats({ weighings: weighed(36) })).toEqual([]);
    const [reason] = raised({ weighings: weighed(36.1) }, { nextFeedAt: at + hour });
    expect(reason).toMatchObject({
      level: "measure first",
      what: "weigh first",
      at: at - 36.1 * hour,
      byAt: at + hour,
    });
    expect(reason!.sentence.parameters["hours"]).toBeCloseTo(36.1, 9);
    expect(reason!.sentence.parameters["limit"]).toBe(36);
  });

  it("of an animal weighed every four days is old after five, and never later than eight", () => {
    const every = (days: number, last: number) =>
      weighed(...[4, 3, 2, 1, 0].map((i) => last + i * days * 24));
    expect(whats({ weighings: every(4, 120) })).toEqual([]);
    expect(whats({ weighings: every(4, 120.1) })).toEqual(["weigh first"]);
    const long = [3, 2, 1, 0].map((i) => 192 + i * 6.7 * 24);
    expect(whats({ weighings: weighed(...long), limits: { weighingMostH: 150 } })).toEqual([
      "weigh first",
    ]);
  });

  it("that was never taken is asked for since admission", () => {
    const [reason] = raised({});
    expect(reason).toMatchObject({ what: "weigh first", at: start });
    expect(reason!.sentence.parameters["hours"]).toBeNull();
    expect(raised({ animal: { admittedAt: null } })[0]!.at).toBe(at);
  });

  it("is not asked for where the limit is switched off", () => {
    expect(whats({ limits: { weighingH: null } })).toEqual([]);
  });
});

describe("the last mass", () => {
  /** The same animal, its weighing of so many hours ago under suspicion of a slip. */
  const doubting = (
    back: number,
    weighings: ReturnType<typeof weighed>,
    more: Partial<NetWeighing> = {},
  ) => {
    const c = caseOf({ plans, weighings }, { nextFeedAt: null });
    const list = c.series.weighings.map((w) =>
      w.at === at - back * hour ? { ...w, standing: "suspected slip" as const, ...more } : w,
    );
    return measureReasons({ ...c, series: { ...c.series, weighings: list } });
  };

  it("in doubt is weighed again first, by the next feed or now", () => {
    const [reason, ...more] = doubting(3, weighed(27, 3));
    expect(more).toEqual([]);
    expect(reason).toMatchObject({
      level: "measure first",
      what: "mass in doubt",
      at: at - 3 * hour,
      byAt: at,
      suggestionsWait: true,
    });
    expect(reason!.sentence.parameters).toMatchObject({ mass: 2000, at: at - 3 * hour });
    const c = caseOf({ plans, weighings: weighed(3) }, { nextFeedAt: at + hour });
    const list = c.series.weighings.map((w) => ({ ...w, standing: "suspected slip" as const }));
    const again = measureReasons({ ...c, series: { ...c.series, weighings: list } });
    expect(again.map((r) => [r.what, r.byAt])).toEqual([
      ["weigh first", at + hour],
      ["mass in doubt", at + hour],
    ]);
  });

  it("in doubt is no weighing: the sure one before it may be old", () => {
    expect(doubting(3, weighed(40, 3)).map((r) => r.what)).toEqual([
      "weigh first",
      "mass in doubt",
    ]);
  });

  it("is in doubt no longer when a sure one came after it", () => {
    expect(doubting(27, weighed(27, 3))).toEqual([]);
  });

  it("without a net mass is none at all", () => {
    expect(doubting(3, weighed(27, 3), { netG: null }).map((r) => r.what)).toEqual([]);
    expect(doubting(3, weighed(27, 3), { netG: 0 }).map((r) => r.what)).toEqual([]);
    const shown = { standing: "shown only" as const, netG: null };
    expect(doubting(3, weighed(40, 3), shown).map((r) => r.what)).toEqual(["weigh first"]);
    expect(doubting(3, weighed(40, 3), { ...shown, netG: 0 }).map((r) => r.what)).toEqual([
      "weigh first",
    ]);
  });
});

describe("a newcomer without an order", () => {
  const came = (hoursBack: number, more: CaseParts = {}) =>
    raised({
      animal: { admittedAt: at - hoursBack * hour },
      weighings: weighed(1),
      plans: [],
      ...more,
    });

  it("is asked about in its first 72 h", () => {
    const [reason] = came(71.9);
    expect(reason).toMatchObject({
      level: "second look",
      what: "no order",
      at: at - 71.9 * hour,
      byAt: at,
      suggestionsWait: true,
    });
    expect(reason!.sentence.parameters["hours"]).toBeCloseTo(71.9, 9);
    expect(came(72)).toEqual([]);
    expect(came(0)).toHaveLength(1);
    expect(came(-1)).toEqual([]);
  });

  it("is not asked about once anything, or nothing by mouth, is ordered", () => {
    expect(came(10, { plans: [{ from: at - hour, gPerFeed: 40, feedsPerDay: 8 }] })).toEqual([]);
    expect(came(10, { plans: [{ from: at - hour, gPerFeed: 0, feedsPerDay: 0 }] })).toEqual([]);
    // A line that tells a rhythm and no amount is no order of what it gets.
    expect(came(10, { plans: [{ from: at - hour, feedsPerDay: 8 }] })).toHaveLength(1);
    // Ordered from the next hour on: now, nothing is.
    const next = [{ from: at + hour, gPerFeed: 40, feedsPerDay: 8 }];
    expect(came(10, { plans: next })).toHaveLength(1);
  });

  it("whose admission is not written is one since its first line", () => {
    const first = (days: number) =>
      raised({
        animal: { admittedAt: null },
        plans: [],
        weighings: [
          [at - days * day, 2000],
          [at - hour, 2000],
        ],
      }).map((r) => [r.what, r.at]);
    expect(first(2)).toEqual([["no order", at - 2 * day]]);
    expect(first(4)).toEqual([]);
  });
});
