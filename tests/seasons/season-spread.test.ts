import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seasonAgainstPast, seasonSpread } from "../../src/seasons/season-spread.js";

describe("the spread between seasons", () => {
  it("is the moment estimate, by hand for equal errors", () => {
    // Means 40, 44, 41, errors 2: variance of means 4.3333, less 4, leaves 0.3333.
    const s = seasonSpread([40, 44, 41], [2, 2, 2])!;
    expect(s.betweenSd).toBeCloseTo(Math.sqrt(1 / 3), 12);
    expect(s.observedSd).toBeCloseTo(Math.sqrt(13 / 3), 12);
  });

  it("has the Q-profile interval: for equal errors a chi-squared interval in closed form", () => {
    // Q(tau2) = 2 x 4.3333 / (4 + tau2) on 2 df; chi-squared .975 and .025: 7.377759, 0.050636.
    const s = seasonSpread([40, 44, 41], [2, 2, 2])!;
    expect(s.interval!.lower).toBe(0);
    expect(s.interval!.upper).toBeCloseTo(Math.sqrt(26 / 3 / 0.0506356 - 4), 4);
  });

  it("is nought where the means differ by no more than their errors, and null below two", () => {
    expect(seasonSpread([40, 41, 40.5], [3, 3, 3])!.betweenSd).toBe(0);
    expect(seasonSpread([40], [3])).toBeNull();
    expect(seasonSpread([40, 42], [1, 1])!.interval).toBeNull();
  });

  it("does not depend on where the zero of gain lies", () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: -20, max: 90, noNaN: true }),
            fc.double({ min: 0.5, max: 6, noNaN: true }),
          ),
          {
            minLength: 3,
            maxLength: 7,
          },
        ),
        fc.double({ min: -30, max: 30, noNaN: true }),
        (pairs, shift) => {
          const means = pairs.map(([m]) => m);
          const ses = pairs.map(([, s]) => s);
          const a = seasonSpread(means, ses)!;
          const b = seasonSpread(
            means.map((m) => m + shift),
            ses,
          )!;
          expect(b.betweenSd).toBeCloseTo(a.betweenSd, 4);
        },
      ),
      { numRuns: 40, seed: 8 },
    );
  });
});

describe("a season against the past", () => {
  const past = [
    { name: "a", mean: 40, se: 0.5 },
    { name: "b", mean: 42, se: 0.5 },
    { name: "c", mean: 44, se: 0.5 },
  ];

  it("is the prediction of one more value, by hand", () => {
    // Past 40, 42, 44: mean 42, sd 2, width 2 sqrt(4/3) = 2.309401; t(2) = 10 / 2.309401 = 4.330127.
    const a = seasonAgainstPast({ name: "d", mean: 52, se: 0.5 }, past)!;
    expect(a.difference).toBe(10);
    expect(a.df).toBe(2);
    // Two-sided tail of t with 2 df in closed form: 1 - t / sqrt(2 + t^2).
    const t = 10 / (2 * Math.sqrt(4 / 3));
    expect(a.p).toBeCloseTo(1 - t / Math.sqrt(2 + t * t), 10);
    expect(a.expected.upper - 42).toBeCloseTo(4.302653 * 2 * Math.sqrt(4 / 3), 4);
  });

  it("makes no certainty of seasons that happen to agree: two past means 0.1 apart, errors 5", () => {
    const close = [
      { name: "a", mean: 33, se: 5 },
      { name: "b", mean: 33.1, se: 5 },
    ];
    const a = seasonAgainstPast({ name: "c", mean: 49, se: 5 }, close)!;
    // Width 5 sqrt(1.5) = 6.12; tail of t with 1 df in closed form: 1 - (2/pi) atan t.
    const t = (49 - 33.05) / (5 * Math.sqrt(1.5));
    expect(a.p).toBeCloseTo(1 - (2 / Math.PI) * Math.atan(t), 10);
    expect(a.p).toBeGreaterThan(0.2);
  });

  it("takes up a season's own larger error", () => {
    const sure = seasonAgainstPast({ name: "d", mean: 52, se: 0.5 }, past)!;
    const unsure = seasonAgainstPast({ name: "d", mean: 52, se: 6 }, past)!;
    expect(unsure.p).toBeGreaterThan(sure.p);
  });

  it("refuses a claim with fewer than two other seasons", () => {
    expect(
      seasonAgainstPast({ name: "b", mean: 50, se: 1 }, [{ name: "a", mean: 40, se: 1 }]),
    ).toBeNull();
  });
});
