import { describe, expect, it } from "vitest";
import { MixedSeries } from "../../src/stats/state-space/mixed-series.js";
import { pathAfterChange } from "../../src/stats/state-space/path-after-change.js";
import { pathAhead } from "../../src/stats/state-space/path-ahead.js";
import { SlopeMixture } from "../../src/stats/state-space/slope-mixture.js";

const parameters = [{ noiseSd: 0.01, lastingShare: 0.4, wander: 0.1, spread: 0.1 }];
const scaleAt = () => 0.02;
const times = [0, 1, 2, 4, 5, 6, 8, 9, 11, 12];
const noise = [3, -2, 4, 0, -5, 2, 1, -3, 6, -7].map((x) => x / 1000);

/** A group of one that is believed to rise by 0.02 a day, give or take 0.002. */
function groupOf(values: readonly number[]) {
  const belief = { weight: 1, precision: Float64Array.of(25e4), pulled: Float64Array.of(5000) };
  const mixture = new SlopeMixture({ knots: [0], parameters, weights: [1], beliefs: [belief] });
  const series = new MixedSeries();
  times.forEach((t, j) => {
    mixture.append(series, t, values[j]!, 1e-5, 0.02, true);
  });
  mixture.settle();
  return { mixture, series };
}
const values = times.map((t, j) => 0.02 * t + noise[j]!);
const ahead = [13, 14, 15, 19];
const mean = (parts: readonly { weight: number; mean: Float64Array }[], i: number) =>
  parts.reduce((s, p) => s + p.weight * p.mean[i]!, 0);

describe("the way ahead after a change", () => {
  it("is that of the values with what was lost given back, less what is lost again", () => {
    const { mixture, series } = groupOf(values);
    const share = 0.6;
    const gain = mixture.slopes[0]!;
    // Looked for back to the value before the newest alone: a loss over one day.
    const change = { lookBack: 0.5, missing: [{ share, weight: 1 }], leastSlope: 0.001 };
    const given = groupOf(values.map((v, j) => (j === 9 ? v + share * gain : v)));
    for (const of of ["level", "value"] as const)
      for (const slope of ["own", "mean"] as const) {
        const options = { times: ahead, scaleAt, of, slope };
        const found = pathAfterChange(mixture, series, { ...options, change, chance: 1 - 1e-9 });
        const [back] = pathAhead(given.mixture, given.series, options);
        const most = found.reduce((a, b) => (b.weight > a.weight ? b : a));
        ahead.forEach((t, i) => {
          const lost = slope === "own" ? t - 11 : 1;
          expect(most.mean[i]!).toBeCloseTo(back!.mean[i]! - share * gain * lost, 10);
          expect(most.sd[i]!).toBeCloseTo(back!.sd[i]!, 12);
        });
      }
  });

  it("is the way ahead where no change is possible, and moves little where none is seen", () => {
    const { mixture, series } = groupOf(values);
    const change = { lookBack: 42, missing: [{ share: 0.5, weight: 1 }], leastSlope: 0.001 };
    const options = { times: ahead, scaleAt, of: "level" as const };
    const plain = mean(pathAhead(mixture, series, options), 3);
    expect(
      mean(pathAfterChange(mixture, series, { ...options, change, chance: 0 }), 3),
    ).toBeCloseTo(plain, 12);
    const moved = mean(pathAfterChange(mixture, series, { ...options, change, chance: 0.2 }), 3);
    expect(moved).toBeLessThan(plain);
    expect(plain - moved).toBeLessThan(0.02);
  });

  it("goes on as it has since it fell, or as any other of the group", () => {
    const long = Array.from({ length: 31 }, (_, d) => 0.02 * d - 0.01 * Math.max(0, d - 18));
    const belief = { weight: 1, precision: Float64Array.of(1e8), pulled: Float64Array.of(2e6) };
    const calm = [{ noiseSd: 0.002, lastingShare: 0.1, wander: 0.03, spread: 0.05 }];
    const mixture = new SlopeMixture({
      knots: [0],
      parameters: calm,
      weights: [1],
      beliefs: [belief],
    });
    const series = new MixedSeries();
    long.forEach((y, d) => {
      mixture.append(series, d, y, 1e-6, 0.02, true);
    });
    mixture.settle();
    const change = { lookBack: 42, missing: [{ share: 0.5, weight: 1 }], leastSlope: 0.001 };
    const from = { times: [31, 37], scaleAt, of: "level" as const, change, chance: 0.2 };
    // 0.48 at day 30: a week more at 0.01 or at 0.02 a day.
    expect(mean(pathAfterChange(mixture, series, from), 1)).toBeCloseTo(0.55, 2);
    const asAny = { ...from, slope: "mean" as const };
    expect(mean(pathAfterChange(mixture, series, asAny), 1)).toBeCloseTo(0.62, 2);
  });
});
