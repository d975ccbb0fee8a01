import { describe, expect, it } from "vitest";
import { commonChange } from "../../src/stats/state-space/common-change.js";
import { hatIntegralsAt, slopeAt } from "../../src/stats/state-space/hat-slopes.js";
import { MixedSeries } from "../../src/stats/state-space/mixed-series.js";
import { pathAhead } from "../../src/stats/state-space/path-ahead.js";
import { slopeChange } from "../../src/stats/state-space/slope-change.js";
import { SlopeMixture } from "../../src/stats/state-space/slope-mixture.js";
import type { WanderingParameters } from "../../src/stats/state-space/wandering-slope.js";

/**
 * Everything here is held against densities of the multivariate normal distribution
 * written out from the definition of the model (Harvey 1989, chapter 3, and the
 * covariance of an integrated Ornstein-Uhlenbeck process, e.g. Gardiner, Handbook of
 * Stochastic Methods, from memory), and against Simpson's rule over the unknown slope:
 * no filter, no recursion.
 */
const sets: readonly WanderingParameters[] = [
  { noiseSd: 0.012, lastingShare: 0.3, wander: 0.1, spread: 0.12 },
  { noiseSd: 0.02, lastingShare: 0.6, wander: 0.2, spread: 0.08 },
];
const scale = 0.01;
const knots = [0];
const rivals = [
  { weight: 0.8, mean: 0.012, sd: 0.0015 },
  { weight: 0.2, mean: 0.01, sd: 0.006 },
];
const prior = {
  knots,
  parameters: sets,
  weights: [0.7, 0.3],
  beliefs: rivals.map((r) => ({
    weight: r.weight,
    precision: Float64Array.of(r.sd ** -2),
    pulled: Float64Array.of(r.mean / r.sd ** 2),
  })),
};
const data = [
  { time: [5, 6, 7, 9, 10, 13], y: [7.5, 7.512, 7.518, 7.55, 7.544, 7.6] },
  { time: [4, 5, 6, 7, 8], y: [7.61, 7.6, 7.631, 7.628, 7.66] },
];
const known = 1e-5;

function group() {
  const mixture = new SlopeMixture(prior);
  const series = data.map(() => new MixedSeries());
  data.forEach(({ time, y }, i) => {
    time.forEach((t, j) => {
      mixture.append(series[i]!, t, y[j]!, known, scale, true);
    });
  });
  mixture.settle();
  return { mixture, series };
}

/** Covariance of the values of one series about the mean curve, from the definition. */
function covarianceOf(time: readonly number[], p: WanderingParameters): number[][] {
  const from = time[0]!;
  const tau = 4;
  const wander = (s: number, t: number) =>
    p.wander ** 2 *
    (2 * tau * Math.min(s, t) -
      tau ** 2 * (1 - Math.exp(-s / tau) - Math.exp(-t / tau) + Math.exp(-Math.abs(t - s) / tau)));
  const own = (i: number, j: number) => {
    let sum = 0;
    for (let a = 0; a < i; a++)
      for (let b = 0; b < j; b++)
        sum +=
          (time[a + 1]! - time[a]!) *
          (time[b + 1]! - time[b]!) *
          p.spread ** 2 *
          Math.exp(-Math.abs(time[a]! - time[b]!) / 60);
    return sum;
  };
  return time.map((s, i) =>
    time.map(
      (t, j) =>
        4 +
        scale ** 2 * (wander(s - from, t - from) + own(i, j)) +
        p.noiseSd ** 2 * p.lastingShare * 0.55 ** Math.abs(s - t) +
        (i === j ? p.noiseSd ** 2 * (1 - p.lastingShare) + known + 1e-12 : 0),
    ),
  );
}

/** Log density of a normal vector by Gaussian elimination. */
function logDensity(x: readonly number[], v: readonly (readonly number[])[]): number {
  const n = x.length;
  const m = v.map((row, i) => [...row, x[i]!]);
  let logDet = 0;
  for (let i = 0; i < n; i++) {
    logDet += Math.log(m[i]![i]!);
    for (let r = i + 1; r < n; r++) {
      const f = m[r]![i]! / m[i]![i]!;
      for (let c = i; c <= n; c++) m[r]![c]! -= f * m[i]![c]!;
    }
  }
  let square = 0;
  for (let i = 0; i < n; i++) square += m[i]![n]! ** 2 / m[i]![i]!;
  return -0.5 * (n * Math.log(2 * Math.PI) + logDet + square);
}

/** x with V x = b, by Gaussian elimination. */
function solved(v: readonly (readonly number[])[], b: readonly number[]): number[] {
  const n = b.length;
  const m = v.map((row, i) => [...row, b[i]!]);
  for (let i = 0; i < n; i++)
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const f = m[r]![i]! / m[i]![i]!;
      for (let c = i; c <= n; c++) m[r]![c]! -= f * m[i]![c]!;
    }
  return m.map((row, i) => row[n]! / row[i]!);
}

/** Density of all values after the first of each series, given the slope. */
function likelihood(
  slope: number,
  p: WanderingParameters,
  lost: (series: number, time: number) => number = () => 0,
  values = data,
): number {
  let log = 0;
  values.forEach(({ time, y }, i) => {
    const v = covarianceOf(time, p);
    const x = y.map(
      (value, j) => value - y[0]! - slope * (time[j]! - time[0]!) - lost(i, time[j]!),
    );
    log += logDensity(x, v) - logDensity([0], [[v[0]![0]!]]);
  });
  return Math.exp(log - 50);
}

/** Simpson's rule over the slope under one belief. */
function overSlope(f: (slope: number) => number, { mean, sd }: { mean: number; sd: number }) {
  const n = 400;
  const from = mean - 8 * sd;
  const h = (16 * sd) / n;
  let sum = 0;
  for (let i = 0; i <= n; i++) {
    const c = from + i * h;
    const w = i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2;
    const bell = Math.exp(-0.5 * ((c - mean) / sd) ** 2) / (sd * Math.sqrt(2 * Math.PI));
    sum += w * bell * f(c);
  }
  return (sum * h) / 3;
}

const overAll = (f: (slope: number, p: WanderingParameters) => number) =>
  rivals.reduce(
    (sum, r) =>
      sum +
      r.weight * sets.reduce((s, p, k) => s + prior.weights[k]! * overSlope((c) => f(c, p), r), 0),
    0,
  );

describe("a mixture over parameters and beliefs", () => {
  it("weighs beliefs and parameters as quadrature of the densities does", () => {
    const { mixture } = group();
    const total = overAll((c, p) => likelihood(c, p));
    rivals.forEach((r, i) => {
      const own = sets.reduce(
        (s, p, k) => s + prior.weights[k]! * overSlope((c) => likelihood(c, p), r),
        0,
      );
      expect(mixture.beliefShare[i]!).toBeCloseTo((r.weight * own) / total, 6);
    });
    const first = overAll((c, p) => (p === sets[0] ? likelihood(c, p) : 0));
    expect(mixture.parameterShare[0]!).toBeCloseTo(first / total, 6);
    const slope = overAll((c, p) => c * likelihood(c, p)) / total;
    expect(mixture.slopes[0]!).toBeCloseTo(slope, 9);
  });

  it("expects the next value as quadrature does, and its spread", () => {
    const { mixture, series } = group();
    const at = 15;
    const p = mixture.predict(series[0]!, at, known, scale);
    // First and second moment over a fine grid of the next value.
    const next = (y: number) =>
      overAll((c, set) =>
        likelihood(c, set, undefined, [
          { time: [...data[0]!.time, at], y: [...data[0]!.y, y] },
          data[1]!,
        ]),
      );
    const h = 0.008;
    let [zero, one, two] = [0, 0, 0];
    for (let y = 7.45; y <= 7.8; y += h) {
      const d = next(y);
      zero += d;
      one += d * y;
      two += d * y * y;
    }
    expect(p.mean).toBeCloseTo(one / zero, 4);
    expect(p.sd).toBeCloseTo(Math.sqrt(two / zero - (one / zero) ** 2), 4);
  });

  it("carries level and value on, day by day, as conditioning on the joint normal does", () => {
    const { mixture, series } = group();
    const ahead = [14, 15, 16, 17];
    const total = overAll(likelihood);
    const { time, y } = data[0]!;
    for (const of of ["level", "value"] as const) {
      const found = pathAhead(mixture, series[0]!, { times: ahead, scaleAt: () => scale, of });
      [0, 3].forEach((step) => {
        const at = ahead[step]!;
        // Given slope and set, the value ahead is normal given the six seen (steps between unseen).
        const all = [...time, ...ahead.slice(0, step + 1)];
        const given = (c: number, p: WanderingParameters) => {
          const v = covarianceOf(all, p);
          const last = all.length - 1;
          const from = time.map((t) => v[last]![all.indexOf(t)]!);
          let own = v[last]![last]! - known - 1e-12;
          if (of === "level") {
            own -= p.noiseSd ** 2;
            from.forEach((_, j) => {
              from[j]! -= p.noiseSd ** 2 * p.lastingShare * 0.55 ** (at - time[j]!);
            });
          }
          const w = solved(
            time.map((_, i) => time.map((__, j) => v[i]![j]!)),
            from,
          );
          const dev = y.map((value, j) => value - y[0]! - c * (time[j]! - time[0]!));
          return {
            mean: y[0]! + c * (at - time[0]!) + w.reduce((s, x, j) => s + x * dev[j]!, 0),
            variance: own - w.reduce((s, x, j) => s + x * from[j]!, 0),
          };
        };
        const one = overAll((c, p) => given(c, p).mean * likelihood(c, p)) / total;
        const two =
          overAll((c, p) => {
            const g = given(c, p);
            return (g.variance + g.mean ** 2) * likelihood(c, p);
          }) / total;
        const mean = found.reduce((sum, p) => sum + p.weight * p.mean[step]!, 0);
        const square = found.reduce(
          (sum, p) => sum + p.weight * (p.sd[step]! ** 2 + p.mean[step]! ** 2),
          0,
        );
        expect(mean).toBeCloseTo(one, 6);
        expect(Math.sqrt(square - mean ** 2)).toBeCloseTo(Math.sqrt(two - one ** 2), 5);
      });
    }
  });

  it("finds the evidence of a change as quadrature does", () => {
    const { mixture, series } = group();
    const missing = [
      { share: 0.5, weight: 0.6 },
      { share: 1, weight: 0.4 },
    ];
    const found = slopeChange(mixture, series[1]!, {
      lookBack: 100,
      missing,
      leastSlope: 0.001,
      leastShare: 0,
    })!;
    const expectedSlope = slopeAt(knots, mixture.slopes, 6);
    const { time } = data[1]!;
    const none = overAll((c, p) => likelihood(c, p));
    let sum = 0;
    for (let start = 0; start < time.length - 1; start++) {
      // Beyond a third of the look-back moments are thinned; here all lie within it.
      for (const { share, weight } of missing) {
        const lost = (i: number, t: number) =>
          i === 1 && t > time[start]! ? -share * expectedSlope * (t - time[start]!) : 0;
        const with1 = overAll((c, p) => likelihood(c, p, lost));
        sum += ((time[start + 1]! - time[start]!) / 100) * weight * (with1 / none);
      }
    }
    expect(found.evidence).toBeCloseTo(Math.log(sum), 5);
  });

  it("finds the evidence of a change that all share as quadrature does", () => {
    const { mixture, series } = group();
    const missing = [
      { share: 0.3, weight: 0.6 },
      { share: 0.6, weight: 0.4 },
    ];
    const offsets = [0, 1];
    const found = commonChange(
      mixture,
      series.map((s, i) => ({ series: s, offset: offsets[i]! })),
      { lookBack: 6, missing, leastSlope: 0.001, leastShare: 0 },
    )!;
    // Looked at 3 and 5 before the newest (13): two moments, equally likely.
    const none = overAll((c, p) => likelihood(c, p));
    let sum = 0;
    for (const moment of [10, 8])
      for (const { share, weight } of missing) {
        const lost = (i: number, t: number) =>
          -share * mixture.slopes[0]! * Math.max(0, t - (moment - offsets[i]!));
        sum += 0.5 * weight * (overAll((c, p) => likelihood(c, p, lost)) / none);
      }
    expect(found.evidence).toBeCloseTo(Math.log(sum), 5);
  });

  it("does not matter in which order series were read, nor whether values were told not to serve later", () => {
    const mixture = new SlopeMixture(prior);
    const series = data.map(() => new MixedSeries());
    for (const i of [1, 0])
      data[i]!.time.forEach((t, j) => {
        mixture.append(series[i]!, t, data[i]!.y[j]!, known, scale, true);
      });
    mixture.serveInstead(series[0]!, [true, true, true, false, true, false]);
    mixture.settle();
    const other = new SlopeMixture(prior);
    const again = data.map(() => new MixedSeries());
    data.forEach(({ time, y }, i) => {
      time.forEach((t, j) => {
        other.append(again[i]!, t, y[j]!, known, scale, i === 1 || (j !== 3 && j !== 5));
      });
    });
    other.settle();
    expect(mixture.slopes[0]!).toBeCloseTo(other.slopes[0]!, 10);
    expect(mixture.parameterShare[0]!).toBeCloseTo(other.parameterShare[0]!, 8);
  });
});

describe("the basis of the mean curve", () => {
  it("integrates the slopes: equal slopes make a straight line, and any slopes the area under them", () => {
    const k = [0, 10, 25, 60];
    const row = new Float64Array(4);
    for (const t of [-5, 0, 3, 10, 24.5, 60, 80]) {
      hatIntegralsAt(k, t, row, 0);
      expect(row.reduce((a, b) => a + b, 0)).toBeCloseTo(t, 10);
    }
    const slopes = [0.01, 0.02, 0.005, 0.03];
    hatIntegralsAt(k, 42, row, 0);
    const area = row.reduce((a, b, i) => a + b * slopes[i]!, 0);
    let sum = 0;
    const n = 42_000;
    for (let i = 0; i < n; i++) sum += (slopeAt(k, slopes, (42 * (i + 0.5)) / n) * 42) / n;
    expect(area).toBeCloseTo(sum, 6);
  });
});
