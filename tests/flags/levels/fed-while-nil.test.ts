import { describe, expect, it } from "vitest";
import { fedWhileNil } from "../../../src/flags/levels/fed-while-nil.js";
import { hour } from "../../rates/small-study.js";
import { at, caseOf } from "./case-of.js";

/** Nothing by mouth from 30 h ago on; before that, 50 g eight times a day. */
const nilFrom = at - 30 * hour;
const plans = [
  { from: at - 100 * hour, dietId: "formula", gPerFeed: 50, feedsPerDay: 8 },
  { from: nilFrom, gPerFeed: 0, feedsPerDay: 0 },
];
const feed = (back: number, offeredG = 50, refusedG: number | null = 0) => ({
  at: at - back * hour,
  offeredG,
  refusedG,
});
const raised = (feeds: ReturnType<typeof feed>[], orders = plans) =>
  fedWhileNil(caseOf({ feeds, plans: orders }));

describe("a feed while nothing by mouth is ordered", () => {
  it("forbids the next one, and says how many, how much, and since when it was ordered", () => {
    const [reason] = raised([feed(20, 40), feed(4, 50)]);
    expect(reason).toMatchObject({
      level: "danger",
      what: "fed while nothing by mouth",
      act: "do not feed until spoken",
      at: at - 4 * hour,
      byAt: at,
      size: { value: 2, outwards: "higher", step: 1 },
    });
    expect(reason!.sentence.parameters).toEqual({
      feeds: 2,
      offered: 90,
      first: at - 20 * hour,
      since: nilFrom,
    });
  });

  it("counts the last 24 h, now included, the same hour of the day before not", () => {
    expect(raised([feed(0)])).toHaveLength(1);
    expect(raised([feed(24)])).toEqual([]);
    expect(raised([feed(23.99)])).toHaveLength(1);
    expect(raised([{ ...feed(0), at: at + 1 }])).toEqual([]);
  });

  it("is one that may have been eaten: a refusal left blank counts, one refused whole does not", () => {
    expect(raised([feed(4, 50, 50)])).toEqual([]);
    expect(raised([feed(4, 50, null)])).toHaveLength(1);
    expect(raised([feed(4, 50, 49)])).toHaveLength(1);
  });

  it("is none where feeds are ordered, or were when it was given", () => {
    expect(raised([feed(4)], plans.slice(0, 1))).toEqual([]);
    const later = [plans[0]!, { ...plans[1]!, from: at - 3 * hour }];
    expect(raised([feed(4)], later)).toEqual([]);
    expect(raised([feed(3)], later)).toHaveLength(1);
    expect(raised([feed(4)], [])).toEqual([]);
    expect(raised([])).toEqual([]);
  });
});
