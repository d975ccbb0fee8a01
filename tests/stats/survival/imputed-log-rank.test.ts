import { describe, expect, it } from "vitest";
import { seededRandom } from "../../../src/core/random.js";
import { UsageError } from "../../../src/core/usage-error.js";
import { imputedLogRank } from "../../../src/stats/survival/imputed-log-rank.js";
import { logRankTest } from "../../../src/stats/survival/log-rank-test.js";
import { radiotherapy, radiotherapyAndChemotherapy } from "../../truth/breast-cosmesis/times.js";
import { rateOfDifferences } from "./simulated-looks.js";

describe("the log-rank test with times drawn between the looks", () => {
  it("agrees with Sun's test on the breast cosmesis times (Z 2.6684; Fay & Shaw 2010, from memory)", () => {
    const times = [...radiotherapy, ...radiotherapyAndChemotherapy];
    const group = times.map((_, i) => (i < radiotherapy.length ? "alone" : "both"));
    const test = imputedLogRank(times, group, { seed: 20260511 });
    expect(test.converged).toBe(true);
    // Another variance (hypergeometric less what the drawing adds), so near and not equal.
    expect(Math.abs(Math.sqrt(test.chiSquared!) - 2.6684)).toBeLessThan(0.1);
    expect(test.sums[0]).toBeLessThan(0);
    expect(test.sums[0]! + test.sums[1]!).toBeCloseTo(0, 9);
  });

  it("is the log-rank test with delayed entry where times are exact: nothing is drawn", () => {
    const entry = [0, 0, 2, 3, 0, 5, 1, 4];
    const time = [4, 6, 6, 9, 10, 11, 12, 12];
    const seen = [true, true, true, false, true, true, false, true];
    const group = ["a", "a", "b", "b", "a", "b", "a", "b"];
    const plain = logRankTest({ time, event: seen, entry }, group);
    const ours = imputedLogRank(
      time.map((t, i) => ({ after: t, by: seen[i] ? t : null, entered: entry[i]! })),
      group,
      { imputations: 5 },
    );
    expect(ours.chiSquared).toBeCloseTo(plain.chiSquared!, 9);
    expect(ours.sums[0]).toBeCloseTo(plain.observed[0]! - plain.expected[0]!, 9);
  });

  it("errs about one time in twenty under late entry, entries and looks unlike in the groups", () => {
    const rate = rateOfDifferences({
      units: [10, 10],
      latestEntryD: [20, 55],
      everyD: [7, 14],
      runs: 300,
      imputations: 30,
      random: seededRandom(20260512),
    });
    // 3.5 binomial standard errors about 5 %.
    expect(Math.abs(rate - 0.05)).toBeLessThan(3.5 * Math.sqrt((0.05 * 0.95) / 300));
  });

  it("gives the same answer for the same seed and refuses a label too few", () => {
    const times = [
      { after: 1, by: 4, entered: 0 },
      { after: 2, by: 6, entered: 1 },
      { after: 5, by: null, entered: 0 },
    ];
    const run = () => imputedLogRank(times, ["a", "b", "b"], { seed: 3 });
    expect(run()).toEqual(run());
    expect(() => imputedLogRank(times, ["a"])).toThrow(UsageError);
  });
});
