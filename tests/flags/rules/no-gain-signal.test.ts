import { describe, expect, it } from "vitest";
import type { PreparedAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { noGainSignal } from "../../../src/flags/rules/no-gain-signal.js";
import { defaultRuleLimits, type RuleLimits } from "../../../src/flags/rules/rule-limits.js";
import type { DailyMass } from "../../../src/series/animal-series.js";
import { dayMs, found } from "./fed-days.js";

/** Seven days without gain are common practice; the line is that of least squares. */
const noon = Date.UTC(2025, 4, 20, 12);
const dateOf = (d: number) => new Date(noon + d * dayMs).toISOString().slice(0, 10);
const on = (d: number, massG: number, ageD: number | null = 40) =>
  ({
    feedingDay: dateOf(d),
    at: noon + d * dayMs,
    massG,
    ageD: ageD === null ? null : ageD + d,
    errorG: 5,
  }) as DailyMass;
const days = (n: number, massOf: (d: number) => number, ageD: number | null = 40) =>
  Array.from({ length: n }, (_, i) => on(i - n + 1, massOf(i - n + 1), ageD));

const gains = (range: readonly [number, number], unit = "g/d", more = {}) => ({
  setting: "hand-reared",
  fromD: 0,
  toD: 100,
  gain: { range, unit },
  ...more,
});
const of = (
  daily: readonly DailyMass[],
  expectedGain: readonly object[] = [],
  phaseOn: (day: string) => string | null = () => "milk",
  limits: Partial<RuleLimits> = {},
) => {
  const animal = {
    id: "P1",
    profile: { expectedGain },
    series: { daily },
    rowOn: new Map(daily.map((d, i) => [d.feedingDay, i])),
  } as unknown as PreparedAnimal;
  return noGainSignal(animal, dateOf(0), phaseOn, { ...defaultRuleLimits, ...limits });
};
const is = (...a: Parameters<typeof of>) => found(of(...a))[0];
/** A little up and down that leaves the slope of eight days as it is. */
const wiggle = (d: number) => (((d % 4) + 4) % 4 === 0 || ((d % 4) + 4) % 4 === 3 ? 3 : -3);

describe("no gain", () => {
  it("is named where the line over seven days does not rise", () => {
    expect(is(days(10, (d) => 3000 + 0.5 * d + wiggle(d) / 100))).toBe("within");
    expect(is(days(10, (d) => 3000 - 0.5 * d + wiggle(d) / 100))).toBe("raised");
    expect(is(days(10, () => 3000))).toBe("raised");
  });

  it("is told with its gain, error, days and weighings", () => {
    const [signal] = of(days(10, (d) => 3000 - 20 * d + wiggle(d))) as Signal[];
    expect(signal).toMatchObject({
      class: "practice",
      kind: "no gain",
      direction: "low",
      threshold: 0,
      evidence: { days: 7 },
      sentence: { code: "flag-no-gain", parameters: { animal: "P1", days: 7 } },
    });
    const { evidence, value, strength } = signal as Extract<Signal, { kind: "no gain" }>;
    expect(evidence.gainGPerD).toBeCloseTo(-20, 0);
    expect(value.value).toBe(evidence.gainGPerD);
    expect(evidence.seGPerD).toBeGreaterThan(0);
    expect(evidence.weighings).toBeGreaterThanOrEqual(7);
    // Many errors below nothing: 3 is the most.
    expect(strength).toBe(3);
    expect((of(days(10, (d) => 3000 + 20 * d + wiggle(d)))[0] as Signal).strength).toBe(0);
    const slight = of(days(10, (d) => 3000 - 0.5 * d + wiggle(d)))[0] as typeof signal & {
      evidence: { gainGPerD: number; seGPerD: number };
    };
    const { gainGPerD, seGPerD } = slight!.evidence;
    expect(slight!.strength).toBeCloseTo(1 + Math.abs(gainGPerD) / seGPerD / 4, 9);
  });

  it("looks at the last days alone", () => {
    expect(is(days(30, (d) => (d < -8 ? 3000 : 3000 + 20 * (d + 8) + wiggle(d))))).toBe("within");
    expect(
      is(days(30, (d) => (d < -8 ? 3000 + 20 * (d + 8) : 3000 - (d + 8) + wiggle(d) / 100))),
    ).toBe("raised");
  });

  it("is not judged on a day without a weighing; the last one before is told", () => {
    const [none] = of(days(10, () => 3000).slice(0, -1));
    expect(none).toMatchObject({
      kind: "no gain",
      why: {
        code: "flag-not-weighed",
        parameters: { animal: "P1", day: dateOf(0), last: dateOf(-1) },
      },
    });
    expect(of([])).toMatchObject([{ why: { parameters: { last: null } } }]);
  });

  it("is not judged where the week reaches into arrival or a fast", () => {
    const arrived = (back: number) => (day: string) => (day <= dateOf(-back) ? "arrival" : "milk");
    const flat = days(20, () => 3000);
    expect(is(flat, [], arrived(6))).toBe("flag-window-unsettled");
    expect(is(flat, [], arrived(7))).toBe("raised");
    const [unsettled] = of(flat, [], arrived(6));
    expect(unsettled).toMatchObject({
      why: { parameters: { animal: "P1", day: dateOf(0), days: 7 } },
    });
    expect(is(flat, [], (day) => (day === dateOf(-3) ? "post-weaning fast" : "milk"))).toBe(
      "flag-window-unsettled",
    );
  });

  it("is switched off, or asked over other days", () => {
    expect(
      of(
        days(10, () => 3000),
        [],
        () => "milk",
        { noGainDays: null },
      ),
    ).toEqual([]);
    const [four] = of(
      days(10, () => 3000),
      [],
      () => "milk",
      { noGainDays: 4 },
    ) as Signal[];
    expect(four!.evidence).toMatchObject({ days: 4 });
  });
});

describe("weighings that cannot tell no gain from what is expected", () => {
  /** Errors of 60 g about no gain: over a week about 9 g/d. */
  const rough = (n: number) => days(n, (d) => 3000 + 20 * wiggle(d));
  const told = (expected: readonly object[], n = 30, phase?: (day: string) => string) => {
    const [signal] = of(rough(n), expected, phase);
    return "why" in signal! ? signal.why : (signal!.evidence as { days: number }).days;
  };

  it("widen the window, to twice as long at most, and then judge nothing", () => {
    expect(told([gains([1000, 2000])])).toBe(7);
    const se = (of(rough(30))[0] as Extract<Signal, { kind: "no gain" }>).evidence.seGPerD;
    expect(told([gains([2.5 * se + 0.01, 2000])])).toBe(7);
    const wider = told([gains([2.5 * se - 0.01, 2000])]);
    expect([11, 14]).toContain(wider);
    expect(told([gains([0.01, 1])])).toMatchObject({
      code: "flag-no-gain-unclear",
      parameters: { animal: "P1", expected: 0.01, days: 14 },
    });
  });

  it("do not widen it into arrival", () => {
    const arrived = (day: string) => (day <= dateOf(-8) ? "arrival" : "milk");
    expect(told([gains([0.01, 1])], 30, arrived)).toMatchObject({ parameters: { days: 7 } });
  });

  it("are held against the low end of what is expected at that age in care, in grams or per cent", () => {
    const asked = (bands: readonly object[], ageD: number | null = 40) => {
      const [signal] = of(
        days(30, (d) => 3000 + 20 * wiggle(d), ageD),
        bands,
      );
      return "why" in signal! ? signal.why.parameters["expected"] : null;
    };
    expect(asked([gains([0.02, 50])])).toBe(0.02);
    // 0.001 % of the last mass of 3,060 g.
    expect(asked([gains([0.001, 5], "%/d")])).toBeCloseTo(0.0306, 9);
    expect(asked([gains([0.01, 1], "g/d", { setting: "mother-reared" })])).toBeNull();
    expect(asked([gains([0.01, 1], "g/d", { toD: 30 })])).toBeNull();
    expect(
      asked([gains([0.01, 1], "g/d", { toD: 30 }), gains([0.03, 1], "g/d", { fromD: 30 })]),
    ).toBe(0.03);
    // Of unknown age, the first band.
    expect(asked([gains([0.01, 1], "g/d", { toD: 30 })], null)).toBe(0.01);
  });

  it("too few for a line are no gain of any kind, and why is told", () => {
    const [one] = of([on(0, 3000)]);
    expect(one).toMatchObject({ kind: "no gain" });
    expect("why" in one! && one.why.code).toBeTruthy();
  });
});
