import { describe, expect, it } from "vitest";
import {
  expectationPrior,
  gainKnotsD,
  summaryOfHouse,
} from "../../src/reference/expectation-prior.js";
import type { PopulationSummary } from "../../src/reference/population-summary.js";

const k = gainKnotsD.length;
const weak = { gain: 0.01 };

/** A summary that knows the gain at every age to `se`, independently. */
function known(gain: number, se: number, animals = 10): PopulationSummary {
  const information = new Array<number>(k * k).fill(0);
  for (let i = 0; i < k; i++) information[i * k + i] = 1 / se ** 2;
  return {
    animals,
    seasons: 1,
    agesD: [...gainKnotsD],
    information,
    pulled: new Array<number>(k).fill(gain / se ** 2),
    variation: {
      noise: { logMean: Math.log(0.012), logSd: 0.2 },
      lasting: { mean: 0.4, sd: 0.2 },
      wander: { logMean: Math.log(0.1), logSd: 0.3 },
      spread: { logMean: Math.log(0.1), logSd: 0.3 },
    },
  };
}

/** Mean and standard deviation of one belief at an age in the middle, by Gaussian elimination. */
function at(belief: { precision: Float64Array; pulled: Float64Array }, age: number) {
  const solve = (b: readonly number[]) => {
    const m = Array.from({ length: k }, (_, i) => [
      ...belief.precision.subarray(i * k, (i + 1) * k),
      b[i]!,
    ]);
    for (let i = 0; i < k; i++)
      for (let r = 0; r < k; r++) {
        if (r === i) continue;
        const f = m[r]![i]! / m[i]![i]!;
        for (let c = i; c <= k; c++) m[r]![c]! -= f * m[i]![c]!;
      }
    return m.map((row, i) => row[k]! / row[i]!);
  };
  const i = gainKnotsD.indexOf(age);
  const unit = gainKnotsD.map((_, j) => (j === i ? 1 : 0));
  return { mean: solve([...belief.pulled])[i]!, sd: Math.sqrt(solve(unit)[i]!) };
}

describe("what is expected of a season before its first weighing", () => {
  it("is the species alone where nothing else is known, and says that nothing was borrowed", () => {
    const { prior, borrowed } = expectationPrior(weak, [], []);
    expect(prior.beliefs).toHaveLength(1);
    // As written in the first month, and from then on less by 0.8 % of itself a day.
    expect(at(prior.beliefs[0]!, 20).mean).toBeCloseTo(0.01, 9);
    expect(at(prior.beliefs[0]!, 70).mean).toBeCloseTo(0.01 * Math.exp(-0.32), 9);
    expect(borrowed.fromNurseries + borrowed.fromSeasons).toBe(0);
  });

  it("lies near what many nurseries agree on, no nearer than they differ, beside a vague belief", () => {
    const many = Array.from({ length: 24 }, (_, i) => known(0.014 + 0.0001 * (i % 5), 0.0003));
    const { prior, borrowed } = expectationPrior(weak, many, []);
    const informed = prior.beliefs[0]!;
    const vague = prior.beliefs[1]!;
    expect(at(informed, 35).mean).toBeCloseTo(0.0142, 3);
    // Even 24 that agree leave room for this one to differ: the spread shrinks towards 15 % only slowly.
    expect(at(informed, 35).sd / 0.0142).toBeGreaterThan(0.06);
    expect(at(informed, 35).sd).toBeLessThan(0.5 * at(vague, 35).sd);
    expect(informed.weight).toBeCloseTo(0.8, 9);
    expect(borrowed.nurseryAnimals).toBe(240);
    expect(borrowed.fromNurseries).toBeGreaterThan(0.2);
  });

  it("grows wider where nurseries disagree", () => {
    const agree = [0.014, 0.0141, 0.0139, 0.014].map((g) => known(g, 0.0003));
    const differ = [0.008, 0.02, 0.011, 0.017].map((g) => known(g, 0.0003));
    const sd = (all: readonly PopulationSummary[]) =>
      at(expectationPrior(weak, all, []).prior.beliefs[0]!, 35).sd;
    expect(sd(differ)).toBeGreaterThan(1.3 * sd(agree));
  });

  it("believes earlier seasons of the house over nurseries that were otherwise", () => {
    // Weights follow the normal densities: the seasons lie far outside what nurseries said.
    const nurseries = Array.from({ length: 12 }, () => known(0.02, 0.0002));
    const seasons = [known(0.009, 0.0003), known(0.0092, 0.0003)];
    const { prior, borrowed } = expectationPrior(weak, nurseries, seasons);
    const mean = prior.beliefs.reduce((s, b) => s + b.weight * at(b, 35).mean, 0);
    expect(Math.abs(mean - 0.0093)).toBeLessThan(0.0009);
    expect(prior.beliefs.at(-1)!.weight).toBeCloseTo(0.15, 6);
    expect(borrowed.fromSeasons).toBeGreaterThan(0.1);
  });

  it("sums seasons of a house to one summary that knows less than their sum: seasons differ", () => {
    const seasons = [known(0.0135, 0.0002), known(0.0145, 0.0002)];
    const house = summaryOfHouse(weak, seasons);
    expect(house.seasons).toBe(2);
    expect(house.animals).toBe(20);
    const i = 3 * k + 3;
    expect(house.information[i]!).toBeLessThan(seasons[0]!.information[i]!);
    expect(house.information[i]!).toBeGreaterThan(0);
  });

  it("weighs rival beliefs by a season as densities of the normal law do, and moves each as conditioning does", () => {
    // Robust mixture, Schmidli et al. (2014) Biometrics 70:1023, sections 2.2 and 2.4: the
    // posterior weights go with the marginal density of what was seen, each component is
    // updated by itself. Here in covariance form, by Gaussian elimination; the library adds
    // precisions. Spreads between seasons: 7 % of the gain for the level, 5 % with a reach of
    // 40 days for the shape, as the library states them.
    const nurseries = [known(0.014, 0.0003), known(0.0152, 0.0003), known(0.0131, 0.0003)];
    const before = expectationPrior(weak, nurseries, []).prior.beliefs;
    for (const gain of [0.0145, 0.0115, 0.008]) {
      const after = expectationPrior(weak, nurseries, [known(gain, 1e-5)]).prior.beliefs;
      const spread = gainKnotsD.map((a) =>
        gainKnotsD.map(
          (b) => gain ** 2 * (0.07 ** 2 + 0.05 ** 2 * Math.exp(-Math.abs(a - b) / 40)),
        ),
      );
      const rivals = before.map((b) => {
        const cov = inverse(matrixOf(b.precision));
        const mean = times(cov, [...b.pulled]);
        const seen = sum(cov, spread);
        const away = mean.map((m) => gain - m);
        return { b, cov, mean, seen, away, log: logDensity(away, seen) };
      });
      const most = Math.max(...rivals.map((r) => r.log + Math.log(r.b.weight)));
      const shares = rivals.map((r) => Math.exp(r.log + Math.log(r.b.weight) - most));
      const total = shares.reduce((x, y) => x + y, 0);
      const moved = rivals.map((r, i) => {
        const gainOf = times(r.cov, times(inverse(r.seen), r.away));
        return { share: shares[i]! / total, mean: r.mean.map((m, j) => m + gainOf[j]!) };
      });
      // What is like nothing known keeps 15 %; a share too small to matter is dropped.
      const informed = moved.filter((m) => 0.85 * m.share > 1e-4);
      expect(after).toHaveLength(informed.length + 1);
      informed.forEach((m, i) => {
        expect(after[i]!.weight).toBeCloseTo(0.85 * m.share, 3);
        expect(at(after[i]!, 35).mean / m.mean[gainKnotsD.indexOf(35)]!).toBeCloseTo(1, 3);
      });
    }
  });
});

const matrixOf = (flat: Float64Array) =>
  gainKnotsD.map((_, i) => [...flat.subarray(i * k, (i + 1) * k)]);

const times = (m: readonly (readonly number[])[], v: readonly number[]) =>
  m.map((row) => row.reduce((s, x, j) => s + x * v[j]!, 0));

const sum = (a: readonly (readonly number[])[], b: readonly (readonly number[])[]) =>
  a.map((row, i) => row.map((x, j) => x + b[i]![j]!));

/** Gauss and Jordan, on the matrix beside the unit matrix. */
function inverse(m: readonly (readonly number[])[]): number[][] {
  const n = m.length;
  const a = m.map((row, i) => [...row, ...row.map((_, j) => (i === j ? 1 : 0))]);
  for (let i = 0; i < n; i++) {
    const pivot = a[i]![i]!;
    a[i] = a[i]!.map((x) => x / pivot);
    for (let r = 0; r < n; r++) {
      if (r === i) continue;
      const f = a[r]![i]!;
      a[r] = a[r]!.map((x, c) => x - f * a[i]![c]!);
    }
  }
  return a.map((row) => row.slice(n));
}

/** Log density of a normal vector of mean 0, by elimination. */
function logDensity(x: readonly number[], v: readonly (readonly number[])[]): number {
  const m = v.map((row, i) => [...row, x[i]!]);
  const n = x.length;
  let log = -0.5 * n * Math.log(2 * Math.PI);
  for (let i = 0; i < n; i++) {
    log -= 0.5 * (Math.log(m[i]![i]!) + m[i]![n]! ** 2 / m[i]![i]!);
    for (let r = i + 1; r < n; r++) {
      const f = m[r]![i]! / m[i]![i]!;
      for (let c = i; c <= n; c++) m[r]![c]! -= f * m[i]![c]!;
    }
  }
  return log;
}
