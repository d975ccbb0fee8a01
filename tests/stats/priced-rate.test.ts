import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { choleskyFactor, solveCholesky } from "../../src/stats/linear-algebra/cholesky.js";
import { makeMatrix } from "../../src/stats/linear-algebra/matrix.js";
import { fitPricedRate } from "../../src/stats/state-space/fit-priced-rate.js";
import { type PricedCourse, PricedRun } from "../../src/stats/state-space/priced-rate.js";

const parameters = {
  price: 4,
  noiseSd: 0.012,
  lastingShare: 0.5,
  wanderSd: 0.002,
  moodSd: 9,
};
const start = { own: [0.012, 0.004], upkeep: [200, 60], drift: 0.0003 } as const;

/** A course with irregular steps whose values are drawn near what is expected. */
function course(seed: number, steps: readonly number[]): PricedCourse {
  const random = seededRandom(seed);
  const time = [0];
  for (const s of steps) time.push(time.at(-1)! + s);
  const size = time.map((t) => 2000 + 25 * t);
  const base = size.map((s) => (s / 1000) ** 0.75);
  return {
    time: Float64Array.from(time),
    size: Float64Array.from(size),
    base: Float64Array.from(base),
    reading: Float64Array.from(size, (s) => s + 20 * random.normal()),
    flow: Float64Array.from(base, (b) => 210 * b + 100 + 15 * random.normal()),
  };
}

/**
 * The same log-likelihood from the definition: every value is a sum of independent standard
 * normals on a fine grid of time, so their covariance is a product of coefficients. No filter.
 */
function byDefinition(c: PricedCourse): number {
  const fine = 60;
  const v = parameters;
  const n = c.time.length - 1;
  const columns: number[][] = [];
  const rows = 2 * n;
  // Per primitive, its coefficient in every flow and every reading (less the first one).
  const add = (of: (j: number) => { flow: number; reading: number }) => {
    const column = new Array<number>(rows).fill(0);
    for (let j = 1; j <= n; j++) {
      column[2 * (j - 1)] = of(j).flow;
      column[2 * (j - 1) + 1] = of(j).reading;
    }
    columns.push(column);
  };
  /** A path of the rate (mean over each step) to what it does to flows and readings. */
  const asRate = (means: readonly number[], sd: number) => {
    let level = 0;
    const levels = means.map((m, j) => {
      level += (c.time[j + 1]! - c.time[j]!) * c.size[j + 1]! * m * sd;
      return level;
    });
    add((j) => ({ flow: v.price * c.size[j]! * means[j - 1]! * sd, reading: levels[j - 1]! }));
  };
  const steps = Array.from({ length: n }, (_, j) => c.time[j + 1]! - c.time[j]!);
  asRate(
    steps.map(() => 1),
    start.own[1],
  );
  // own drifts once at the end of each step.
  for (let k = 0; k < n; k++)
    asRate(
      steps.map((_, j) => (j > k ? 1 : 0)),
      start.drift * Math.sqrt(steps[k]!),
    );
  // wander: its start, then one shock in each fine part of each step.
  const parts = steps.flatMap((s, j) =>
    Array.from({ length: fine }, () => ({ j, width: s / fine })),
  );
  for (let shock = -1; shock < parts.length; shock++) {
    const means = steps.map(() => 0);
    let value = shock < 0 ? 1 : 0;
    parts.forEach((p, i) => {
      const keep = Math.exp(-p.width / 4);
      const after = value * keep + (i === shock ? Math.sqrt(1 - keep * keep) : 0);
      means[p.j]! += (value + after) / 2 / fine;
      value = after;
    });
    asRate(means, v.wanderSd);
  }
  const autoregressive = (kept: number, put: (values: readonly number[]) => void) => {
    for (let shock = 0; shock <= n; shock++) {
      const values: number[] = [];
      for (let j = 0; j <= n; j++) {
        const k = j === 0 ? 0 : kept ** steps[j - 1]!;
        values.push((j === 0 ? 0 : k * values[j - 1]!) + (j === shock ? Math.sqrt(1 - k * k) : 0));
      }
      put(values);
    }
  };
  const lasting = v.noiseSd * Math.sqrt(v.lastingShare);
  const white = v.noiseSd * Math.sqrt(1 - v.lastingShare);
  autoregressive(0.6, (m) => add((j) => ({ flow: c.base[j]! * v.moodSd * m[j]!, reading: 0 })));
  autoregressive(0.55, (u) =>
    add((j) => ({ flow: 0, reading: lasting * (c.size[j]! * u[j]! - c.size[0]! * u[0]!) })),
  );
  for (let k = 0; k <= n; k++)
    add((j) => ({
      flow: 0,
      reading: white * ((j === k ? c.size[j]! : 0) - (k === 0 ? c.size[0]! : 0)),
    }));
  add((j) => ({ flow: c.base[j]! * start.upkeep[1], reading: 0 }));
  // A flow is known to a thousandth.
  for (let k = 1; k <= n; k++) add((j) => ({ flow: j === k ? 1e-3 * c.flow[j]! : 0, reading: 0 }));

  let level = c.reading[0]!;
  const mean: number[] = [];
  for (let j = 1; j <= n; j++) {
    const rate = c.size[j]! * start.own[0];
    level += steps[j - 1]! * rate;
    mean.push(start.upkeep[0] * c.base[j]! + v.price * rate, level);
  }
  const miss = mean.map((m, i) => (i % 2 === 0 ? c.flow[i / 2 + 1]! : c.reading[(i + 1) / 2]!) - m);
  const covariance = makeMatrix(rows, rows);
  for (const column of columns)
    for (let a = 0; a < rows; a++)
      for (let b = 0; b < rows; b++) covariance.data[a * rows + b]! += column[a]! * column[b]!;
  const factor = choleskyFactor(covariance, 1e-14)!;
  const solved = solveCholesky(factor, Float64Array.from(miss));
  let sum = -0.5 * rows * Math.log(2 * Math.PI);
  for (let a = 0; a < rows; a++) {
    sum -= Math.log(factor.data[a * rows + a]!);
    sum -= 0.5 * miss[a]! * solved[a]!;
  }
  return sum;
}

describe("a level whose rate is paid for by a flow", () => {
  it.each([
    [1, [1, 1, 1, 1, 1, 1]],
    [2, [1, 3, 0.5, 2, 1]],
  ] as const)(
    "has the likelihood of the normal law it is defined by (course %d)",
    (seed, steps) => {
      const c = course(15_451 + seed, steps);
      const filtered = new PricedRun().logLikelihood(c, parameters, start);
      expect(filtered).toBeCloseTo(byDefinition(c), 2);
    },
  );

  it("finds the price where rates differ, whatever the errors, and says nothing of none", () => {
    // Rates that step up and down by half, told by the flow without any mood.
    const random = seededRandom(15_455);
    const courses = Array.from({ length: 8 }, (): PricedCourse => {
      const rate = Array.from({ length: 21 }, (_, j) => (Math.floor(j / 4) % 2 === 0 ? 35 : 17));
      const level = [2000];
      for (const r of rate) level.push(level.at(-1)! + r);
      const own = 200 * Math.exp(0.06 * random.normal());
      const base = level.map((m) => (m / 1000) ** 0.75);
      return {
        time: Float64Array.from(level, (_, j) => j),
        size: Float64Array.from(level),
        base: Float64Array.from(base),
        reading: Float64Array.from(level, (m) => m + 5 * random.normal()),
        flow: Float64Array.from(level, (_, j) => (j === 0 ? 0 : own * base[j]! + 5 * rate[j - 1]!)),
      };
    });
    const fit = fitPricedRate(courses, { cheapest: 1, dearest: 15 })!;
    expect(fit.lower).toBeLessThan(5);
    expect(fit.upper).toBeGreaterThan(5);
    expect(fit.upper / fit.lower).toBeLessThan(1.6);
    expect(fit.upkeep).toHaveLength(8);
    // Money is a matter of units: twice the flow, twice the price.
    const twice = courses.map((c) => ({ ...c, flow: c.flow.map((f) => 2 * f) }));
    const dear = fitPricedRate(twice, { cheapest: 2, dearest: 30 })!;
    expect(dear.price / fit.price).toBeCloseTo(2, 2);
    expect(fitPricedRate([], { cheapest: 1, dearest: 15 })).toBeNull();
  });
});
