import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { UsageError } from "../../../src/core/usage-error.js";
import { intervalLogRank } from "../../../src/stats/survival/interval-log-rank.js";
import { logRankTest } from "../../../src/stats/survival/log-rank-test.js";
import { radiotherapy, radiotherapyAndChemotherapy } from "../../truth/breast-cosmesis/times.js";
import { remissions } from "../../truth/leukaemia/remissions.js";

const times = [...radiotherapy, ...radiotherapyAndChemotherapy];
const group = [
  ...radiotherapy.map(() => "alone"),
  ...radiotherapyAndChemotherapy.map(() => "both"),
];

describe("the log-rank test between looks", () => {
  it("is Z 2.6684, p .007622 on the breast cosmesis times (Fay & Shaw 2010, from memory)", () => {
    const test = intervalLogRank(times, group, { reorderings: 4999, seed: 17 });
    expect(test.converged).toBe(true);
    expect(Math.sqrt(test.chiSquared!)).toBeCloseTo(2.6684, 3);
    expect(test.p).toBeCloseTo(0.007622, 5);
    // Retraction comes later with radiotherapy alone.
    expect(test.sums[0]).toBeLessThan(0);
    expect(Math.abs(test.permutationP! - test.p!)).toBeLessThan(0.006);
  });

  it("has the log-rank test's observed less expected on right-censored times: 6-MP (Freireich 1963)", () => {
    // Expected 19.2505009 and 10.7494991 against 9 and 21 seen (the published comparison).
    const test = intervalLogRank(
      remissions.map((r) => ({ after: r.weeks, by: r.relapsed ? r.weeks : null })),
      remissions.map((r) => r.arm),
    );
    expect(test.sums[0]).toBeCloseTo(9 - 19.2505009, 5);
    expect(test.sums[1]).toBeCloseTo(21 - 10.7494991, 5);
  });

  it("has sums that add up to nothing, whatever the times (property)", () => {
    const row = fc.tuple(
      fc.integer({ min: 1, max: 15 }),
      fc.integer({ min: 0, max: 4 }),
      fc.boolean(),
      fc.boolean(),
    );
    fc.assert(
      fc.property(fc.array(row, { minLength: 6, maxLength: 20 }), (rows) => {
        const seen = rows.some(([, , never]) => !never);
        if (!seen) return;
        const test = intervalLogRank(
          rows.map(([after, width, never]) => ({ after, by: never ? null : after + width })),
          rows.map(([, , , a]) => (a ? "a" : "b")),
        );
        expect(Math.abs(test.sums.reduce((x, y) => x + y, 0))).toBeLessThan(1e-3 * rows.length);
      }),
      { numRuns: 60, seed: 5 },
    );
  });

  it("agrees with the plain log-rank test on exact times, to the difference of their variances", () => {
    const t = [3, 5, 7, 9, 11, 13, 4, 6, 8, 10, 12, 30];
    const g = t.map((_, i) => (i < 6 ? "a" : "b"));
    const plain = logRankTest({ time: t, event: t.map(() => true) }, g);
    const ours = intervalLogRank(
      t.map((x) => ({ after: x, by: x })),
      g,
    );
    expect(ours.sums[0]).toBeCloseTo(plain.observed[0]! - plain.expected[0]!, 6);
  });

  it("refuses truncated times", () => {
    expect(() => intervalLogRank([{ after: 2, by: 3, entered: 1 }], ["a"])).toThrow(UsageError);
  });
});
