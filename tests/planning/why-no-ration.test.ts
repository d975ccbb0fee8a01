import { describe, expect, it } from "vitest";
import { notice } from "../../src/core/notice.js";
import type { RationGround } from "../../src/planning/ration-ground.js";
import { whyNone } from "../../src/planning/why-no-ration.js";
import { intakeByDay } from "../../src/rates/intake-by-day.js";
import type { PlanRow } from "../../src/records/study.js";
import { dayOrder } from "../../src/series/orders/day-order.js";
import { ordersOf } from "../../src/series/orders/orders-of.js";
import { profileOf } from "../../src/species/profile-of.js";
import { feedingDaySpan } from "../../src/units/calendar.js";
import {
  dailyMasses,
  day,
  feedsEvery,
  hour,
  type SmallStudy,
  settings,
  smallSeries,
  start,
} from "../rates/small-study.js";
import { type LooseOrder, planRow } from "../series/plan-row.js";

/** The ration of the feeding day of 11 May, made at noon of the day before. */
const at = start + 9 * day + 6 * hour;
const feedingDay = "2025-05-11";
const well: SmallStudy = {
  weighings: dailyMasses(10, () => 2000),
  feeds: feedsEvery(3, start, at, { offeredG: 80 }),
};
interface Given {
  readonly parts?: SmallStudy;
  readonly orders?: readonly (LooseOrder & Partial<Pick<PlanRow, "perDay">>)[];
  readonly reasons?: readonly { level: string; suggestionsWait: boolean; sentence: string }[];
  readonly massG?: number | null;
  readonly refuse?: ReturnType<typeof notice>;
}
const ordered = (orders: NonNullable<Given["orders"]>) => {
  const rows = orders.map(({ perDay = null, ...order }) => ({ ...planRow(order), perDay }));
  return dayOrder(ordersOf(rows, new Map(), settings), feedingDay);
};
const none = ({ parts = {}, orders = [], reasons = [], massG = 2000, refuse }: Given = {}) => {
  const series = smallSeries({ ...well, ...parts });
  const ground = {
    animal: "P1",
    series,
    past: series,
    settings,
    profile: profileOf(series.animal.species),
    intake: intakeByDay(series, { settings }).value,
    span: feedingDaySpan(feedingDay, "UTC", 6),
    mass: { value: massG },
    ordered: ordered(orders),
    level: { reasons },
    options: { at, ...(refuse === undefined ? {} : { refuse }) },
  } as unknown as RationGround;
  return whyNone(ground);
};
const why = (given: Given) => none(given)?.notices[0]?.code ?? null;
const milk = (fromD: number, more: Partial<LooseOrder> = {}) => ({
  from: start + fromD * day,
  dietId: "formula",
  gPerFeed: 50,
  feedsPerDay: 8,
  ...more,
});

describe("a ration is suggested", () => {
  it("where nothing speaks against it, with an order or without", () => {
    expect([none(), none({ orders: [milk(0)] })]).toEqual([null, null]);
  });
});

describe("no ration is suggested", () => {
  it("while nothing by mouth is ordered, all day or a part of it", () => {
    const nil = (fromD: number, more: Partial<LooseOrder> = {}) =>
      ({ from: start + fromD * day, dietId: "nil by mouth", ...more }) as LooseOrder;
    expect(none({ orders: [nil(9)] })).toEqual({
      status: "not computed",
      notices: [expect.objectContaining({ code: "ration-nil-by-mouth", level: "problem" })],
    });
    expect(none({ orders: [nil(9)] })!.notices[0]!.parameters).toEqual({ animal: "P1" });
    expect(why({ orders: [milk(0), nil(10.5)] })).toBe("ration-nil-by-mouth");
    expect(why({ orders: [nil(9), milk(10.5)] })).toBe("ration-nil-by-mouth");
    expect(why({ orders: [nil(8, { to: start + 9 * day })] })).toBeNull();
    expect(why({ orders: [milk(0), nil(11)] })).toBeNull();
  });

  it("for one that has left by the day, unless it is still fed", () => {
    const gone = (outcomeDate: string | null, more: object = {}) => ({
      parts: {
        animal: { outcome: "released", outcomeDate, ...more },
        feeds: feedsEvery(3, start, start + 4 * day),
        weighings: dailyMasses(4, () => 2000),
      },
    });
    expect(none(gone("2025-05-05"))).toMatchObject({
      status: "not computed",
      notices: [
        {
          code: "ration-not-in-care",
          level: "info",
          parameters: { animal: "P1", outcome: "released" },
        },
      ],
    });
    // Leaving on the day planned it gets none any more; on the day after it does.
    expect(why(gone("2025-05-11"))).toBe("ration-not-in-care");
    expect(why(gone("2025-05-12"))).toBeNull();
    expect(why(gone(null))).toBeNull();
    expect(why(gone("2025-05-05", { outcome: "in care" }))).toBeNull();
    expect(why(gone("2025-05-05", { outcome: null }))).toBeNull();
    const fed = { animal: { outcome: "released", outcomeDate: "2025-05-05" } };
    expect(why({ parts: fed })).toBeNull();
  });

  it("while a reason of its level makes suggestions wait, and every such reason is told", () => {
    const reason = (level: string, sentence: string, suggestionsWait = true) => ({
      level,
      suggestionsWait,
      sentence,
    });
    const held = none({
      reasons: [reason("second look", "a"), reason("danger", "b"), reason("danger", "c", false)],
    });
    expect(held).toMatchObject({
      status: "hold",
      notices: [{ code: "ration-hold", level: "problem", parameters: { animal: "P1" } }, "a", "b"],
    });
    expect(held!.notices).toHaveLength(3);
    expect(why({ reasons: [reason("second look", "a")] })).toBe("ration-waits");
    expect(why({ reasons: [reason("danger", "a", false)] })).toBeNull();
  });

  it("where that was found outside", () => {
    const refuse = notice("ration-no-mass", "problem", { animal: "P9" });
    expect(none({ refuse })).toEqual({ status: "not computed", notices: [refuse] });
  });

  it("in the fast after weaning", () => {
    const fish = (from: number, to: number, g: number) =>
      feedsEvery(4, start + from * day, Math.min(at, start + to * day), {
        dietId: "clam",
        offeredG: g,
      });
    const seal = {
      species: "harbour seal",
      animal: { birthDateEarliest: "2025-04-08", birthDateLatest: "2025-04-08" },
      weighings: dailyMasses(10, (d) => 9000 + 20 * d),
    };
    const fasting = { ...seal, feeds: [...fish(0, 6, 240), ...fish(6, 10, 20)] };
    expect(none({ parts: fasting })).toMatchObject({
      status: "not computed",
      notices: [{ code: "ration-in-fast", level: "caution", parameters: { animal: "P1" } }],
    });
    expect(why({ parts: { ...seal, feeds: fish(0, 10, 240) } })).toBeNull();
    // Of one that has no phase yet, nothing says that it fasts.
    expect(why({ parts: { ...fasting, animal: { admittedAt: at + day } } })).toBeNull();
  });

  it("without a mass", () => {
    expect(none({ massG: null })).toMatchObject({
      status: "not computed",
      notices: [{ code: "ration-no-mass", level: "problem", parameters: { animal: "P1" } }],
    });
  });

  it("in place of an order that cannot be added up: it is followed as written", () => {
    const asWritten = none({ orders: [milk(0, { gPerFeed: 50, feedsPerDay: null })] });
    expect(asWritten).toMatchObject({
      status: "not computed",
      notices: [
        { code: "ration-order-as-written", level: "caution", parameters: { animal: "P1" } },
      ],
    });
    // Two lines, of which one cannot be added; one that changes within the day.
    const unread = { ...milk(0, { dietId: "clam", gPerFeed: null, feedsPerDay: 2 }) };
    expect(why({ orders: [milk(0), unread] })).toBe("ration-order-as-written");
    expect(why({ orders: [milk(10.5)] })).toBe("ration-order-as-written");
    // A whole day in words that are no amount of a feed is an order too.
    const perDay = { words: "400 kcal", value: { amount: 400, unit: "kcal" as const } };
    expect(why({ orders: [{ from: start, dietId: "formula", perDay }] })).toBe(
      "ration-order-as-written",
    );
    // Without any amount there is nothing to be followed.
    expect(why({ orders: [unread] })).toBeNull();
    expect(why({ orders: [{ from: start, dietId: "formula" }] })).toBeNull();
  });
});
