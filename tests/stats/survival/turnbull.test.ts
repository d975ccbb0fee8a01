import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { UsageError } from "../../../src/core/usage-error.js";
import type { CensoredTime } from "../../../src/stats/survival/censored-time.js";
import { turnbull } from "../../../src/stats/survival/turnbull.js";
import { turnbullSurvival } from "../../../src/stats/survival/turnbull-survival.js";
import { radiotherapy, radiotherapyAndChemotherapy } from "../../truth/breast-cosmesis/times.js";

describe("turnbull on the breast cosmesis times (Finkelstein & Wolfe 1985)", () => {
  // Masses to four digits: the published estimate, from memory, and recomputed with a plain
  // EM of two million steps in NumPy; the digits beyond the fourth are NumPy's.
  const expected: readonly (readonly [number, number | null, number])[] = [
    [4, 5, 0.0463],
    [6, 7, 0.0334],
    [7, 8, 0.0887],
    [11, 12, 0.0708],
    [24, 25, 0.0926],
    [33, 34, 0.0818],
    [38, 40, 0.1209],
    [46, 48, 0.4656],
  ];

  it("finds the published intervals and masses", () => {
    const fit = turnbull(radiotherapy);
    expect(fit.converged).toBe(true);
    expect(fit.steps.map((s) => [s.from, s.to])).toEqual(expected.map(([a, b]) => [a, b]));
    fit.steps.forEach((s, j) => {
      expect(Math.abs(s.mass - expected[j]![2])).toBeLessThan(6e-5);
    });
  });

  it("reaches the maximum that an independent program reaches", () => {
    expect(turnbull(radiotherapy).logLikelihood).toBeCloseTo(-58.06003, 4);
    const both = turnbull(radiotherapyAndChemotherapy);
    expect(both.converged).toBe(true);
    expect(both.logLikelihood).toBeCloseTo(-65.6369649, 5);
    expect(both.steps.map((x) => x.mass)[5]).toBeCloseTo(0.1157459, 5);
  });
});

describe("turnbull where the answer has a closed form", () => {
  it("is Kaplan-Meier on exact and right-censored times (product-limit, textbook)", () => {
    // Leukaemia, 6-MP arm (Freireich 1963): S(6) .857143, S(10) .752941, S(22) .537815.
    const exact = [6, 6, 6, 7, 10, 13, 16, 22, 23];
    const censored = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35];
    const fit = turnbull([
      ...exact.map((t) => ({ after: t, by: t })),
      ...censored.map((t) => ({ after: t, by: null })),
    ]);
    expect(turnbullSurvival(fit, 6).lower).toBeCloseTo(0.857143, 5);
    expect(turnbullSurvival(fit, 10).lower).toBeCloseTo(0.752941, 5);
    expect(turnbullSurvival(fit, 22).upper).toBeCloseTo(0.537815, 5);
  });

  it("is the delayed-entry product-limit on exact, left-truncated times", () => {
    // At risk: at 3: units 1, 2, 3; at 5: 2, 3, 4; at 6: 3, 4; at 8: 4. S = 2/3, 4/9, 2/9, 0.
    const fit = turnbull([
      { after: 3, by: 3, entered: 0 },
      { after: 5, by: 5, entered: 1 },
      { after: 6, by: 6, entered: 2 },
      { after: 8, by: 8, entered: 4 },
    ]);
    expect(fit.converged).toBe(true);
    expect(fit.steps.map((s) => s.mass)).toEqual([
      expect.closeTo(1 / 3, 6),
      expect.closeTo(2 / 9, 6),
      expect.closeTo(2 / 9, 6),
      expect.closeTo(2 / 9, 6),
    ]);
  });

  it("is the monotone regression on one look per unit (current status data)", () => {
    // Looks at 1..5, seen: 0 of 2, 1 of 2, 0 of 2, 2 of 3, 1 of 1. Pool the two violators
    // (1/2, 0/2 -> 1/4): F = 0, .25, .25, 2/3, 1 (pool-adjacent-violators, by hand).
    const looks: [number, number, number][] = [
      [1, 0, 2],
      [2, 1, 2],
      [3, 0, 2],
      [4, 2, 3],
      [5, 1, 1],
    ];
    const fit = turnbull(
      looks.flatMap(([t, seen, n]) =>
        Array.from({ length: n }, (_, i) =>
          i < seen ? { after: 0, by: t } : { after: t, by: null },
        ),
      ),
    );
    const f = (t: number) => 1 - turnbullSurvival(fit, t).lower;
    expect(f(1)).toBeCloseTo(0, 5);
    expect(f(2)).toBeCloseTo(0.25, 5);
    expect(f(3)).toBeCloseTo(0.25, 5);
    expect(f(4)).toBeCloseTo(2 / 3, 5);
    expect(f(5)).toBeCloseTo(1, 5);
  });
});

describe("laws of turnbull", () => {
  const time = fc
    .tuple(
      fc.integer({ min: 1, max: 20 }),
      fc.integer({ min: 0, max: 6 }),
      fc.boolean(),
      fc.boolean(),
    )
    .map(
      ([after, width, never, late]): CensoredTime => ({
        after,
        by: never ? null : after + width,
        ...(late ? { entered: after - 1 } : {}),
      }),
    );

  it("masses are a distribution, the condition holds, order does not matter", () => {
    fc.assert(
      fc.property(fc.array(time, { minLength: 1, maxLength: 12 }), (times) => {
        const fit = turnbull(times, { maximumIterations: 2000 });
        // Under truncation the likelihood may have no maximum (everybody then at risk had it,
        // and others entered later); then the fit must say that it did not get there.
        if (times.every((t) => t.entered === undefined)) expect(fit.converged).toBe(true);
        expect(fit.converged).toBe(fit.violation <= 1e-8);
        expect(fit.steps.reduce((s, x) => s + x.mass, 0)).toBeCloseTo(1, 6);
        const back = turnbull([...times].reverse(), { maximumIterations: 2000 });
        if (fit.converged) expect(back.logLikelihood).toBeCloseTo(fit.logLikelihood, 5);
      }),
      { numRuns: 60, seed: 11 },
    );
  });

  it("a shift of time shifts the intervals and nothing else", () => {
    const moved = turnbull(
      radiotherapy.map((t) => ({ after: t.after + 3, by: t.by === null ? null : t.by + 3 })),
    );
    const fit = turnbull(radiotherapy);
    moved.steps.forEach((s, j) => {
      expect(s.from).toBe(fit.steps[j]!.from + 3);
      expect(s.mass).toBeCloseTo(fit.steps[j]!.mass, 7);
    });
  });

  it("refuses what cannot have been observed, and says what to do", () => {
    expect(() => turnbull([{ after: 5, by: 4 }])).toThrow(UsageError);
    expect(() => turnbull([{ after: 5, by: 5, entered: 6 }])).toThrow(/leave it out/);
    expect(() => turnbull([])).toThrow(/at least one time/);
  });
});
