import { describe, expect, it } from "vitest";
import type { PreparedAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { acuteLossSignal } from "../../../src/flags/rules/acute-loss-signal.js";
import { defaultRuleLimits, type RuleLimits } from "../../../src/flags/rules/rule-limits.js";
import type { DailyMass, NetWeighing } from "../../../src/series/animal-series.js";
import { dayMs, found } from "./fed-days.js";

/** Common practice: from one weighed day to the next reading, 5 % is looked at, 10 % a danger. */
const noon = Date.UTC(2025, 4, 10, 12);
const dateOf = (d: number) => new Date(noon + Math.floor(d) * dayMs).toISOString().slice(0, 10);
const on = (d: number, massG: number, errorG = 0) =>
  ({ feedingDay: dateOf(d), at: noon + d * dayMs, massG, errorG }) as DailyMass;
/** A reading under suspicion of a slip. */
const doubt = (d: number, netG: number, suggestedG: number | null, coat: string | null = "dry") =>
  ({
    at: noon + d * dayMs,
    feedingDay: dateOf(d),
    netG,
    slip: { kind: "digits swapped", suggestedG },
    row: { scaleId: "s1", massG: netG, coat, meal: "before" },
  }) as unknown as NetWeighing;
const of = (
  daily: readonly DailyMass[],
  doubted: readonly NetWeighing[] = [],
  limits: Partial<RuleLimits> = {},
) => {
  const animal = {
    id: "P1",
    settings: { scaleErrorG: { s1: 0 } },
    series: { daily },
    rowOn: new Map(daily.map((d, i) => [d.feedingDay, i])),
    doubtedOn: new Map([[dateOf(0), doubted]]),
  } as unknown as PreparedAnimal;
  return acuteLossSignal(animal, dateOf(0), { ...defaultRuleLimits, ...limits });
};
/** [acute loss, loss] */
const both = (...a: Parameters<typeof of>) => found(of(...a));
const NOTHING = ["within", "within"];
const LOOK = ["within", "raised"];
const DANGER = ["raised", "within"];

describe("a fall from one weighed day to the next", () => {
  it("is looked at from 5 %, a danger from 10 %, and then no look beside", () => {
    expect(both([on(-1, 2000), on(0, 1901)])).toEqual(NOTHING);
    expect(both([on(-1, 2000), on(0, 1900)])).toEqual(LOOK);
    expect(both([on(-1, 2000), on(0, 1801)])).toEqual(LOOK);
    expect(both([on(-1, 2000), on(0, 1800)])).toEqual(DANGER);
  });

  it("is told with both masses, the day before, the limit and where it is from", () => {
    const [danger, look] = of([on(-1, 2000, 3), on(0, 1700, 4)]) as Signal[];
    expect(danger).toMatchObject({
      class: "danger",
      kind: "acute loss",
      direction: "low",
      threshold: 10,
      strength: 1.5,
      value: { value: 15, unit: "%", se: 0.25 },
      evidence: { beforeG: 2000, nowG: 1700, lossG: 300 },
      sentence: { code: "flag-acute-loss", level: "problem" },
    });
    expect(danger!.sentence.parameters).toEqual({
      animal: "P1",
      loss: 15,
      before: 2000,
      now: 1700,
      beforeDay: dateOf(-1),
      limit: 10,
      source: "common practice",
      level: "danger",
      raised: true,
    });
    expect(look).toMatchObject({ class: "practice", kind: "loss", threshold: 5, strength: 0.99 });
    expect(look!.sentence.parameters).toMatchObject({ limit: 5, level: "look", raised: false });
    expect((of([on(-1, 2000), on(0, 1950)])[1] as Signal).strength).toBe(0.5);
    expect((of([on(-1, 2000), on(0, 2100)])[1] as Signal).strength).toBe(0);
  });

  it("must also be twice its stated error, of both days", () => {
    // 30 and 40 g: 50 g of 2,000, 2.5 %.
    expect(both([on(-1, 2000, 30), on(0, 1900, 40)])).toEqual(LOOK);
    expect(both([on(-1, 2000, 30), on(0, 1900, 40.1)])).toEqual(NOTHING);
    expect(both([on(-1, 2000, 100), on(0, 1800, 10)])).toEqual(NOTHING);
  });

  it("is judged over two days at most", () => {
    expect(both([on(-2, 2000), on(0, 1700)])).toEqual(DANGER);
    const far = of([on(-3, 2000), on(0, 1700)]);
    expect(far.map((s) => s.kind)).toEqual(["acute loss", "loss"]);
    expect(found(far)).toEqual(["flag-no-pair", "flag-no-pair"]);
    expect(far[0]).toMatchObject({ why: { parameters: { animal: "P1", day: dateOf(0) } } });
    expect(found(of([on(0, 1700)]))).toEqual(["flag-no-pair", "flag-no-pair"]);
    expect(found(of([on(-1, 1700)]))).toEqual(["flag-no-pair", "flag-no-pair"]);
  });

  it("has limits that can be set, and switched off one by one", () => {
    const set = of([on(-1, 2000), on(0, 1900)], [], { lossPct: 6 })[1] as Signal;
    expect(set).toMatchObject({ raised: false, threshold: 6 });
    expect(set.sentence.parameters["source"]).toBe("set in study.json");
    const kinds = (limits: Partial<RuleLimits>) =>
      of([on(-1, 2000), on(0, 1700)], [], limits).map((s) => `${s.kind} ${found([s])[0]}`);
    expect(kinds({ lossPct: null })).toEqual(["acute loss raised"]);
    expect(kinds({ acuteLossPct: null })).toEqual(["loss raised"]);
    expect(kinds({ acuteLossPct: null, lossPct: null })).toEqual([]);
    const none = of([], [], { lossPct: null });
    expect(none.map((s) => s.kind)).toEqual(["acute loss"]);
  });
});

describe("a doubted reading", () => {
  it("counts by its worse meaning, from the last weighed day before it", () => {
    const before = [on(-2, 1000), on(-1, 2000)];
    const [danger] = of(before, [doubt(0, 1750, 2020)]) as Signal[];
    expect(danger).toMatchObject({
      raised: true,
      evidence: { beforeG: 2000, nowG: 1750 },
      sentence: { code: "flag-doubted-loss" },
    });
    expect(both(before, [doubt(0, 2020, 1750)])).toEqual(DANGER);
    expect(both(before, [doubt(0, 2020, 1950)])).toEqual(NOTHING);
    expect(found(of([], [doubt(0, 1750, 2020)]))).toEqual(["flag-no-pair", "flag-no-pair"]);
    expect(found(of([on(-3, 2000)], [doubt(0, 1750, 2020)]))).toEqual([
      "flag-no-pair",
      "flag-no-pair",
    ]);
  });

  it("after the day's own weighing is held against that one, before it is answered by it", () => {
    const daily = [on(-1, 2000), on(0, 1990)];
    expect(both(daily, [doubt(0.1, 1750, 2020)])).toEqual(DANGER);
    expect((of(daily, [doubt(0.1, 1750, 2020)])[0] as Signal).evidence).toMatchObject({
      beforeG: 1990,
    });
    expect(both(daily, [doubt(-0.1, 1750, 2020)])).toEqual(NOTHING);
    expect(both(daily, [doubt(0, 1750, 2020)])).toEqual(DANGER);
    // Weighed later and sure: the doubted one of this morning is in no need of a day before.
    expect(both([...daily, on(1, 900)], [doubt(0.1, 1980, 1985)])).toEqual(NOTHING);
  });

  it("of several is the one that has lost most; one of another day is none", () => {
    const daily = [on(-1, 2000)];
    const [danger] = of(daily, [
      doubt(-0.1, 1950, 1950),
      doubt(0, 1700, 1700),
      doubt(0.1, 1900, 1900),
    ]) as Signal[];
    expect(danger).toMatchObject({ evidence: { nowG: 1700 } });
    const wrongDay = { ...doubt(0, 900, null), slip: { kind: "wrong day", suggestedG: null } };
    expect(found(of(daily, [wrongDay as unknown as NetWeighing]))).toEqual([
      "flag-no-pair",
      "flag-no-pair",
    ]);
  });

  it("has the error of its condition too", () => {
    // Wet may add 4 %, besides 0.7 % of any: twice that is more than 7 %.
    expect(both([on(-1, 2000)], [doubt(0, 1860, 1860, "wet")])).toEqual(NOTHING);
    expect(both([on(-1, 2000)], [doubt(0, 1860, 1860, "dry")])).toEqual(LOOK);
  });
});
