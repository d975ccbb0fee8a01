import { describe, expect, it } from "vitest";
import type { PreparedAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { Signal } from "../../../src/flags/animal-day/signal.js";
import { defaultRuleLimits, type RuleLimits } from "../../../src/flags/rules/rule-limits.js";
import { temperatureSignal } from "../../../src/flags/rules/temperature-signal.js";
import type { Sign } from "../../../src/series/signs/sign.js";
import { found } from "./fed-days.js";

/** A made-up range of 36.5 to 38.5; the margin of 0.2 is for a thermometer's error. */
const day = "2025-05-10";
type Line = Partial<Sign> & { readonly low?: number; readonly high?: number };
const sign = ({ low, high = low, ...more }: Line, i = 0) =>
  ({
    kind: "temperature",
    at: 100 + i,
    state: "present",
    written: "as written",
    measure: low === undefined ? null : { low, high, unit: "degC" },
    ...more,
  }) as unknown as Sign;
const of = (
  lines: readonly Line[],
  range: readonly [number, number] | null = [36.5, 38.5],
  limits: Partial<RuleLimits> = {},
) => {
  const profile = { bodyTemperature: range === null ? null : { range, source: "invented" } };
  const signsOn = new Map([[day, lines.map(sign)]]);
  const animal = { id: "P1", profile, signsOn } as unknown as PreparedAnimal;
  return temperatureSignal(animal, day, { ...defaultRuleLimits, ...limits });
};
const is = (...a: Parameters<typeof of>) => found(of(...a))[0];

describe("the temperature rule", () => {
  it("names what lies outside the range by more than a thermometer may err", () => {
    expect(is([{ low: 36.3 }])).toBe("within");
    expect(is([{ low: 36.2 }])).toBe("raised");
    expect(is([{ low: 38.7 }])).toBe("within");
    expect(is([{ low: 38.8 }])).toBe("raised");
    // Limits of an otter: 37.5 to 38.1.
    for (const [value, what] of [
      [37.3, "within"],
      [37.2, "raised"],
      [38.3, "within"],
      [38.4, "raised"],
    ] as const)
      expect([value, is([{ low: value }], [37.5, 38.1])]).toEqual([value, what]);
  });

  it("tells how far, on which side, and when", () => {
    const [cold] = of([{ low: 36 }]) as Signal[];
    expect(cold).toMatchObject({
      class: "danger",
      kind: "temperature",
      direction: "low",
      threshold: 36.3,
      evidence: { temperatureC: 36, lowC: 36.5, highC: 38.5, at: 100 },
      value: { value: 36, unit: "degC" },
    });
    expect(cold!.strength).toBeCloseTo(1.3, 6);
    expect(cold!.sentence).toMatchObject({
      code: "flag-temperature",
      parameters: { value: 36, low: 36.5, high: 38.5, margin: 0.2, source: "invented", at: 100 },
    });
    const [hot] = of([{ low: 39.2 }]) as Signal[];
    expect(hot).toMatchObject({ direction: "high", threshold: 38.7 });
    expect(hot!.strength).toBeCloseTo(1.5, 6);
  });

  it("is below its threshold within the range, and never below nothing", () => {
    const strength = (value: number) => (of([{ low: value }])[0] as Signal).strength;
    expect(strength(36.4)).toBeCloseTo(0.9, 6);
    expect(strength(36.3)).toBe(0.99);
    expect(strength(37.5)).toBe(0);
  });

  it("of several readings, and of several meanings of one, takes the one furthest away", () => {
    const value = (lines: readonly Line[]) => (of(lines)[0] as Signal).value.value;
    expect(value([{ low: 37 }, { low: 36 }, { low: 38.6 }])).toBe(36);
    expect(value([{ low: 37 }, { low: 36.4 }, { low: 39 }])).toBe(39);
    expect(value([{ low: 35.9, high: 38.5 }])).toBe(35.9);
    expect(value([{ low: 37.5, high: 39.5 }])).toBe(39.5);
    expect((of([{ low: 37 }, { low: 36 }])[0] as Signal).value.n).toBe(2);
  });

  it("does not judge what was not taken, or cannot be read", () => {
    expect(is([])).toBe("flag-no-temperature");
    expect(is([{ kind: "glucose", low: 30 }])).toBe("flag-no-temperature");
    expect(is([{ state: "not looked" }])).toBe("flag-no-temperature");
    const [unread] = of([{ written: "see sheet" }]);
    expect(unread).toMatchObject({
      kind: "temperature",
      why: { code: "flag-no-body-temperature", parameters: { animal: "P1", value: "see sheet" } },
    });
    expect(is([{ written: "see sheet" }, { low: 36 }])).toBe("raised");
  });

  it("of a species without a range takes bounds of common practice, without a margin", () => {
    expect(is([{ low: 35 }], null)).toBe("within");
    expect(is([{ low: 34.9 }], null)).toBe("raised");
    expect(is([{ low: 40.5 }], null)).toBe("within");
    expect(is([{ low: 40.6 }], null)).toBe("raised");
    expect((of([{ low: 34 }], null)[0] as Signal).sentence.parameters["source"]).toMatch(
      /^common practice/,
    );
    expect(is([{ low: 34 }], null, { temperatureWithoutRangeC: null })).toBe("flag-no-range");
    // Its margin is none of theirs.
    expect(is([{ low: 34 }], null, { temperatureMarginC: null })).toBe("raised");
  });

  it("says nothing where it is switched off", () => {
    expect(of([{ low: 30 }], [36.5, 38.5], { temperatureMarginC: null })).toEqual([]);
  });
});
