import { describe, expect, it } from "vitest";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { refusalSignal } from "../../../src/flags/rules/refusal-signal.js";
import { defaultRuleLimits, type RuleLimits } from "../../../src/flags/rules/rule-limits.js";
import { animalFed, fedDayOf, found, type LooseDay } from "./fed-days.js";

/** Common practice: half at once, 30 % on two days in a row and 15 points above what is usual. */
const of = (day: ReturnType<typeof fedDayOf>, limits: Partial<RuleLimits> = {}) =>
  refusalSignal(animalFed(), day, { ...defaultRuleLimits, ...limits });
const pct = (refusedG: number, more: LooseDay = {}) => ({ offeredG: 100, refusedG, ...more });
const usually = (refused: number, n = 10) => Array.from({ length: n }, () => pct(refused));
const is = (...a: Parameters<typeof fedDayOf>) => found(of(fedDayOf(...a)))[0];

describe("refusals", () => {
  it("of half of a day are named at once, whatever came before", () => {
    expect(is(pct(50), null)).toBe("raised");
    expect(is(pct(49), null)).toBe("within");
    expect(is(pct(50), pct(0), usually(45))).toBe("raised");
  });

  it("of 30 % are named on the second day in a row", () => {
    expect(is(pct(30), pct(30))).toBe("raised");
    expect(is(pct(29), pct(30))).toBe("within");
    expect(is(pct(30), pct(29))).toBe("within");
    expect(is(pct(30), null)).toBe("within");
    expect(is(pct(30), { offeredG: 0 })).toBe("within");
  });

  it("of an animal that always leaves a quarter are named 15 points above that", () => {
    expect(is(pct(40), pct(40), usually(25))).toBe("raised");
    expect(is(pct(39), pct(40), usually(25))).toBe("within");
    // Three days make no habit, and days without an offer none either.
    expect(is(pct(30), pct(30), usually(25, 3))).toBe("raised");
    expect(is(pct(30), pct(30), usually(25, 4))).toBe("within");
    expect(is(pct(30), pct(30), [...usually(25, 3), { offeredG: 0 }])).toBe("raised");
  });

  it("that are blank are not judged where the answer hangs on them", () => {
    expect(is(pct(10, { blankG: 20 }), pct(40))).toBe("flag-refusals-unknown");
    expect(is(pct(10, { blankG: 19 }), pct(40))).toBe("within");
    expect(is(pct(30, { blankG: 20 }), pct(40))).toBe("raised");
    const [blank] = of(fedDayOf(pct(10, { blankG: 90 })));
    expect(blank).toMatchObject({ kind: "refusals", why: { parameters: { animal: "P1" } } });
  });

  it("are told with what was offered, refused and usual", () => {
    const [signal] = of(fedDayOf(pct(60, { feeds: 7 }), pct(20), usually(10))) as Signal[];
    expect(signal).toMatchObject({
      class: "practice",
      kind: "refusals",
      direction: "high",
      raised: true,
      threshold: 30,
      evidence: { refusedG: 60, offeredG: 100, feeds: 7, usualPct: 10, dayBeforePct: 20 },
      sentence: { code: "flag-refusals", level: "problem" },
    });
    expect(signal!.value.value).toBe(60);
    expect(signal!.strength).toBe(2);
    expect(signal!.sentence.parameters).toMatchObject({
      share: 60,
      refused: 60,
      offered: 100,
      limit: 30,
    });
    const [within] = of(fedDayOf(pct(15), null, usually(10, 3))) as Signal[];
    expect(within).toMatchObject({
      strength: 0.5,
      evidence: { usualPct: null, dayBeforePct: null },
    });
    // Over the limit and not raised is still below its threshold.
    expect((of(fedDayOf(pct(45), pct(0)))[0] as Signal).strength).toBe(0.99);
    // Raised in building up, however little is refused.
    expect(
      (of(fedDayOf(pct(51), pct(51), [], { buildUp: true }))[0] as Signal).strength,
    ).toBeCloseTo(1.7, 9);
  });

  it("while intake is being built up are named where it stands still below half, or is next to nothing", () => {
    const building = (today: number, before: LooseDay | null) =>
      found(of(fedDayOf(pct(today), before, [], { buildUp: true })))[0];
    expect(building(50, pct(50))).toBe("within");
    expect(building(60, pct(61))).toBe("raised");
    expect(building(60, pct(63))).toBe("within");
    expect(building(60, null)).toBe("within");
    expect(building(92, null)).toBe("raised");
    const [signal] = of(fedDayOf(pct(60), pct(61), [], { buildUp: true })) as Signal[];
    expect(signal!.sentence.code).toBe("flag-refusals-building-up");
  });

  it("are not judged where nothing was offered, or the rule is switched off", () => {
    expect(of(fedDayOf({ offeredG: 0 }))).toEqual([]);
    expect(of(fedDayOf(pct(90)), { refusedPct: null })).toEqual([]);
  });

  it("are never asked to be less than the limit that is set, above half too", () => {
    expect(found(of(fedDayOf(pct(60), pct(60)), { refusedPct: 70 }))).toEqual(["within"]);
    expect(found(of(fedDayOf(pct(70), null), { refusedPct: 70 }))).toEqual(["raised"]);
  });
});
