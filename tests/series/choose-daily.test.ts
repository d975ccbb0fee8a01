import { describe, expect, it } from "vitest";
import type { NetWeighing, StudySettings, WeighingRow } from "../../src/series/animal-series.js";
import { chooseDaily } from "../../src/series/choose-daily.js";

/** Definition: the one in usual condition nearest the usual clock time, ties to the earliest. */
const hour = 3_600_000;
const day = 24 * hour;
const midnight = Date.UTC(2025, 4, 1);
const settings = { zone: "UTC", scaleErrorG: { s1: 0 } } as unknown as StudySettings;
const dry = { coat: "dry", meal: "before" };
const untold = { coat: null, meal: "unknown" };
const wet = { coat: "wet", meal: "before" };
/** A weighing of a day at a clock time. */
const w = (d: number, clock: number, condition: object = dry, more: Partial<NetWeighing> = {}) =>
  ({
    at: midnight + d * day + clock * hour,
    feedingDay: new Date(midnight + d * day).toISOString().slice(0, 10),
    netG: 2000 + d,
    ageD: 10 + d,
    sinceAdmissionD: d,
    standing: "shown only",
    slip: null,
    row: { massG: 2000 + d, tareG: 0, scaleId: "s1", ...condition } as WeighingRow,
    ...more,
  }) as unknown as NetWeighing;
/** Weighed at nine on five days: its usual clock time. */
const nine = [1, 2, 3, 4, 5].map((d) => w(d, 9));
/** The clock times that stand for day 0. */
const stands = (own: readonly NetWeighing[], others = nine) =>
  chooseDaily([...own, ...others], settings)
    .daily.filter((m) => m.feedingDay === "2025-05-01")
    .map((m) => (m.at - midnight) / hour);

describe("the weighing that stands for a day", () => {
  it("is the one nearest the usual clock time, the earlier of two as near", () => {
    expect(stands([w(0, 6), w(0, 10), w(0, 14)])).toEqual([10]);
    expect(stands([w(0, 7), w(0, 11)])).toEqual([7]);
    expect(stands([w(0, 11), w(0, 7)])).toEqual([7]);
    // Around midnight: 23:30 is an hour from 00:30.
    const night = [1, 2, 3].map((d) => w(d, 0.5));
    expect(stands([w(0, 4), w(0, 23.5)], night)).toEqual([23.5]);
  });

  it("is in usual condition before one that is not told, and that before a wet one", () => {
    expect(stands([w(0, 9, untold), w(0, 20, dry)])).toEqual([20]);
    expect(stands([w(0, 20, dry), w(0, 9, untold)])).toEqual([20]);
    expect(stands([w(0, 9, wet), w(0, 20, untold)])).toEqual([20]);
    expect(stands([w(0, 9, { coat: "dry", meal: "after" }), w(0, 20, untold)])).toEqual([20]);
    expect(stands([w(0, 9, wet)])).toEqual([9]);
  });

  it("is never one under suspicion, without a mass, or that cannot be", () => {
    const slip = {} as NonNullable<NetWeighing["slip"]>;
    expect(stands([w(0, 9, dry, { slip }), w(0, 20)])).toEqual([20]);
    expect(stands([w(0, 9, dry, { netG: null })])).toEqual([]);
    const odd = w(0, 9);
    const { daily, weighings } = chooseDaily(
      [odd, w(1, 9)],
      settings,
      (each) => each.at === odd.at,
    );
    expect(daily.map((m) => m.feedingDay)).toEqual(["2025-05-02"]);
    expect(weighings.map((x) => [x.standing, x.why.code])).toEqual([
      ["shown only", "series-mass-impossible"],
      ["stands for the day", "series-only-weighing"],
    ]);
  });

  it("is told with its mass, age, error, condition and how many there were, in order of days", () => {
    const { daily } = chooseDaily([w(1, 9, wet), w(0, 20), w(0, 9)], settings);
    expect(daily.map((m) => m.feedingDay)).toEqual(["2025-05-01", "2025-05-02"]);
    expect(daily[0]).toMatchObject({
      massG: 2000,
      ageD: 10,
      sinceAdmissionD: 0,
      usualCondition: true,
      nWeighings: 2,
    });
    expect(daily[1]).toMatchObject({ massG: 2001, usualCondition: false, nWeighings: 1 });
    // Dry 0.7 % of mass, wet 4 % besides.
    expect(daily[0]!.errorG).toBeCloseTo(14, 9);
    expect(daily[1]!.errorG).toBeCloseTo(2001 * Math.hypot(0.007, 0.04), 9);
  });
});

describe("the usual clock time", () => {
  it("is the middle of those in the best condition alone", () => {
    const often = [1, 2, 3, 4, 5].map((d) => w(d, 21, wet));
    expect(stands([w(0, 8), w(0, 16)], [...often, w(6, 9)])).toEqual([8]);
    // Nobody tells of a condition: then all count.
    const none = [1, 2, 3].map((d) => w(d, 21, untold));
    expect(stands([w(0, 8, untold), w(0, 20, untold)], none)).toEqual([20]);
    // One under suspicion tells no habit.
    const slip = {} as NonNullable<NetWeighing["slip"]>;
    const doubted = [1, 2, 3, 4].map((d) => w(d, 21, dry, { slip }));
    expect(stands([w(0, 8), w(0, 16)], [...doubted, w(6, 9)])).toEqual([8]);
  });

  it("is a middle on the circle of the clock, which does not break at midnight", () => {
    // 22, 23, 1 and 2 o'clock: between them 23 and 1, never noon.
    const around = [22, 23, 1, 2].map((clock, i) => w(i + 1, clock));
    expect(stands([w(0, 12), w(0, 0.2)], around)).toEqual([0.2]);
    expect(stands([w(0, 12), w(0, 21)], around)).toEqual([21]);
  });

  it("is told by the study's zone", () => {
    const tokyo = { ...settings, zone: "Asia/Tokyo" } as StudySettings;
    // 23:30 UTC is 8:30 there.
    const habit = [1, 2, 3].map((d) => w(d, 23.5));
    const { daily } = chooseDaily([w(0, 0.5), w(0, 12), ...habit], tokyo);
    expect((daily[0]!.at - midnight) / hour).toBe(0.5);
  });
});

describe("why a weighing stands or not", () => {
  const whys = (own: readonly NetWeighing[]) =>
    chooseDaily(own, settings).weighings.map((x) => [x.standing, x.why.code]);
  it("is told for each", () => {
    expect(whys([w(0, 9), w(0, 20)])).toEqual([
      ["stands for the day", "series-usual-condition"],
      ["shown only", "series-other-stands"],
    ]);
    expect(whys([w(0, 9, wet), w(0, 20, wet)])[0]).toEqual([
      "stands for the day",
      "series-best-of-unusual",
    ]);
    expect(whys([w(0, 9, wet)])).toEqual([["stands for the day", "series-only-weighing"]]);
    const [only] = chooseDaily([w(0, 9, wet)], settings).weighings;
    expect(only!.why.parameters).toEqual({ n: 1, condition: "unusual" });
    expect(only!.why.level).toBe("info");
    const tare = (tareG: number | null) => whys([w(0, 9, { ...dry, tareG }, { netG: null })])[0];
    expect(tare(null)).toEqual(["shown only", "series-tare-blank"]);
    expect(tare(3000)).toEqual(["shown only", "series-tare-not-below"]);
  });

  it("tells what people decided, and by whom", () => {
    const decided = (decision: string) =>
      ({
        decision: { decision, decidedBy: "Tor", decidedOn: "2025-05-02", why: "box" },
      }) as unknown as Partial<NetWeighing>;
    const out = chooseDaily([w(0, 9, dry, { ...decided("leave out"), netG: null })], settings)
      .weighings[0]!;
    expect([out.standing, out.why.code]).toEqual(["shown only", "series-left-out"]);
    expect(out.why.parameters).toEqual({
      by: "Tor",
      on: "2025-05-02",
      why: "box",
      decision: "leave out",
    });
    const kept = whys([w(0, 9, dry, decided("keep")), w(0, 20)]);
    expect(kept[0]).toEqual(["stands for the day", "series-stands-as-decided"]);
  });

  it("of a suspected slip is the slip, with the mass as read where there is no net one", () => {
    const slip = {
      kind: "tenth",
      suggestedG: 2000,
      zBefore: -9,
      zAfter: 0,
      otherAnimalId: null,
    } as NonNullable<NetWeighing["slip"]>;
    const [net] = chooseDaily([w(0, 9, dry, { slip, netG: 200 })], settings).weighings;
    expect(net).toMatchObject({
      standing: "suspected slip",
      why: { code: "series-suspected-slip", parameters: { netG: 200 } },
    });
    const [read] = chooseDaily([w(0, 9, dry, { slip, netG: null })], settings).weighings;
    expect(read!.why.parameters["netG"]).toBe(2000);
  });
});
