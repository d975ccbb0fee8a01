import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { levelShift } from "../../src/stats/state-space/level-shift.js";
import { MixedSeries } from "../../src/stats/state-space/mixed-series.js";
import { type SlopeBelief, SlopeMixture } from "../../src/stats/state-space/slope-mixture.js";

const knots = [0, 20];
const parameters = [
  { noiseSd: 0.01, lastingShare: 0.3, wander: 0.1, spread: 0.1 },
  { noiseSd: 0.02, lastingShare: 0.6, wander: 0.05, spread: 0.2 },
];
const precision = Float64Array.of(1e5, 3e4, 3e4, 8e4);
/** A belief of this mean at the two knots. */
const belief = (weight: number, mean: readonly [number, number]): SlopeBelief => ({
  weight,
  informed: true,
  precision,
  pulled: Float64Array.of(
    precision[0]! * mean[0] + precision[1]! * mean[1],
    precision[2]! * mean[0] + precision[3]! * mean[1],
  ),
});

function groupOf(beliefs: readonly SlopeBelief[], slope: number): SlopeMixture {
  const group = new SlopeMixture({ knots, parameters, weights: [0.5, 0.5], beliefs });
  const random = seededRandom(15_911);
  for (let animal = 0; animal < 3; animal++) {
    const series = new MixedSeries();
    let y = 7;
    for (let day = animal; day < 26; day += 2) {
      group.append(series, day, y + 0.01 * random.normal(), 1e-5, 0.02, true);
      y += 2 * slope;
    }
  }
  group.settle();
  return group;
}

describe("a mean slope below what was believed", () => {
  it("has the Bayes factor that the two beliefs have beside each other", () => {
    // Independent of the formula: the marginal likelihoods of all values under either belief.
    for (const slope of [0.012, 0.017, 0.022]) {
      const mean = [0.021, 0.018] as const;
      const lower = [0.75 * mean[0], 0.75 * mean[1]] as const;
      const both = groupOf([belief(0.5, mean), belief(0.5, lower)], slope);
      const expected = Math.log(both.beliefShare[1]! / both.beliefShare[0]!);
      const found = levelShift(
        groupOf([belief(1, mean)], slope),
        [1, 1],
        [{ share: 0.25, weight: 1 }],
      )!;
      expect(found.evidence).toBeCloseTo(expected, 8);
    }
  });

  it("tells how much is missing along the times asked about", () => {
    const mean = [0.021, 0.018] as const;
    const group = groupOf([belief(1, mean)], 0.012);
    const missing = [{ share: 0.25, weight: 1 }];
    const { slopes } = group;
    expect(levelShift(group, [3, 1], missing)!.missing).toBeCloseTo(
      0.75 * (mean[0] - slopes[0]!) + 0.25 * (mean[1] - slopes[1]!),
      10,
    );
    expect(levelShift(group, [0, 0], missing)).toBeNull();
  });

  it("is not weighed down by a vague belief, and not told where there is no other", () => {
    const mean = [0.021, 0.018] as const;
    const missing = [{ share: 0.25, weight: 1 }];
    const wide = Float64Array.of(100, 0, 0, 100);
    const vague: SlopeBelief = { weight: 1, precision: wide, pulled: Float64Array.of(2, 2) };
    expect(levelShift(groupOf([vague], 0.012), [1, 1], missing)).toBeNull();
    const alone = levelShift(groupOf([belief(1, mean)], 0.001), [1, 1], missing)!;
    const beside = { ...vague, weight: 0.5 };
    const mixed = groupOf([belief(0.5, mean), beside], 0.001);
    expect(mixed.beliefShare[0]).toBeLessThan(1e-6);
    const found = levelShift(mixed, [1, 1], missing)!;
    expect(found.evidence).toBeGreaterThan(4);
    // Shares of the parameters come from both beliefs, so the two agree but roughly.
    expect(found.evidence / alone.evidence).toBeGreaterThan(0.5);
    expect(found.evidence / alone.evidence).toBeLessThan(2);
  });
});
