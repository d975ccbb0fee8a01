import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import {
  neighbourCorrelations,
  whitenRows,
} from "../../src/stats/descriptive/serial-correlation.js";
import {
  bootstrapNonlinearMixed,
  calibrateIndividuals,
} from "../../src/stats/nonlinear-mixed/bootstrap.js";
import { fitNonlinearMixed } from "../../src/stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import { makeIndividual } from "../../src/stats/nonlinear-mixed/individual.js";
import { maximiseMarginal } from "../../src/stats/nonlinear-mixed/marginal.js";
import type { MeanFunction, NonlinearMixedData } from "../../src/stats/nonlinear-mixed/model.js";
import { individualPrior, populationModel } from "../../src/stats/nonlinear-mixed/prior.js";
import { gaussHermite } from "../../src/stats/numeric/gauss-hermite.js";

const logistic: MeanFunction = (x, p, out, at) => {
  const s = 1 / (1 + Math.exp((p[1]! - x) / p[2]!));
  out[at] = s;
  out[at + 1] = (-p[0]! * s * (1 - s)) / p[2]!;
  out[at + 2] = (p[0]! * s * (1 - s) * (p[1]! - x)) / (p[2]! * p[2]!);
  return p[0]! * s;
};
const line: MeanFunction = (x, p, out, at) => {
  out[at] = 1;
  out[at + 1] = x;
  return p[0]! + p[1]! * x;
};

function simulated(seed: number, groups: number): NonlinearMixedData {
  const random = seededRandom(seed);
  const x: number[] = [];
  const response: number[] = [];
  const group: string[] = [];
  const d = new Float64Array(3);
  for (let g = 0; g < groups; g++) {
    const z = random.normal();
    const p = Float64Array.of(
      30 + 3 * z,
      25 + 4 * (0.3 * z + Math.sqrt(0.91) * random.normal()),
      10,
    );
    for (let day = random.below(4); day < 50; day += 1 + random.below(5)) {
      x.push(day);
      response.push(logistic(day, p, d, 0) + 0.4 * random.normal());
      group.push(`g${g}`);
    }
  }
  return { x, response, group, mean: logistic, parameters: ["A", "m", "s"], random: ["A", "m"] };
}
const starts = [[30, 25, 10]];

describe("nonlinear mixed models", () => {
  it("equals the linear mixed model when the mean is a straight line", async () => {
    const { fitLinearMixed } = await import("../../src/stats/linear-mixed/fit-linear-mixed.js");
    const data = simulated(3, 12);
    const fit = fitNonlinearMixed(
      { ...data, mean: line, parameters: ["a", "b"], random: ["a", "b"] },
      { starts: [[1, 1]], method: "REML" },
    );
    const one = Array.from(data.x, () => 1);
    const linear = fitLinearMixed({
      response: data.response,
      fixed: { names: ["a", "b"], columns: [one, data.x] },
      levels: [{ name: "g", group: data.group, names: ["a", "b"], columns: [one, data.x] }],
    });
    expect(fit.status).toBe("converged");
    expect(fit.logLikelihood).toBeCloseTo(linear.logLikelihood, 6);
    linear.fixed.estimates.forEach((v, k) => {
      expect(fit.fixed.estimates[k]! / v!).toBeCloseTo(1, 6);
      expect(fit.fixed.standardErrors[k]! / linear.fixed.standardErrors[k]!).toBeCloseTo(1, 5);
    });
    linear.random[0]!.sd.forEach((v, k) => {
      expect(fit.random.sd[k]! / v).toBeCloseTo(1, 4);
    });
  });

  it("finds the same fit whatever the order of rows and the unit of the response", () => {
    const data = simulated(4, 10);
    const fit = fitNonlinearMixed(data, { starts });
    const order = seededRandom(9).shuffled(Array.from(data.x, (_, i) => i));
    const pick = <T>(v: ArrayLike<T>) => order.map((i) => v[i]!);
    const other = fitNonlinearMixed(
      {
        ...data,
        x: pick(data.x),
        response: pick(data.response).map((v) => v * 1000),
        group: pick(data.group),
      },
      { starts: [[30_000, 25, 10]] },
    );
    expect(other.fixed.estimates[0]! / fit.fixed.estimates[0]!).toBeCloseTo(1000, 3);
    expect(other.random.sd[1]!).toBeCloseTo(fit.random.sd[1]!, 5);
    expect(other.logLikelihood + data.x.length * Math.log(1000)).toBeCloseTo(fit.logLikelihood, 5);
  });

  it("keeps a parameter positive on a log scale, with the same curve", () => {
    const data = simulated(5, 10);
    const fixedScale = { ...data, random: ["A"] };
    const plain = fitNonlinearMixed(fixedScale, { starts });
    const log = fitNonlinearMixed({ ...fixedScale, logScale: ["s"] }, { starts });
    // s has no random effect: its logarithm is only another name for it.
    expect(Math.exp(log.fixed.estimates[2]!)).toBeCloseTo(plain.fixed.estimates[2]!, 5);
    expect(log.logLikelihood).toBeCloseTo(plain.logLikelihood, 6);
  });

  it("reports a difference between groups that is not there as a boundary", () => {
    const random = seededRandom(31);
    const data = simulated(6, 8);
    const d = new Float64Array(3);
    const p = Float64Array.of(30, 25, 10);
    // Antithetic noise leaves less between groups than chance would.
    const response = Array.from(data.x, (x, i) => {
      return logistic(x, p, d, 0) + (i % 2 === 0 ? 0.3 : -0.3) * (1 + 0.01 * random.normal());
    });
    const fit = fitNonlinearMixed({ ...data, response, covariance: "diagonal" }, { starts });
    expect(fit.status).toBe("converged");
    expect(fit.singular).toBe(true);
    expect(fit.notices.map((n) => n.code)).toContain("mixed-singular");
  });

  it("says no-start where the mean cannot be evaluated", () => {
    const data = { ...simulated(7, 5), mean: () => Number.NaN };
    expect(fitNonlinearMixed(data, { starts }).status).toBe("no-start");
  });

  it("refuses covariates that change within a group and unknown names", () => {
    const data = simulated(8, 5);
    const values = Array.from(data.x, (_, i) => i);
    expect(() =>
      fitNonlinearMixed(
        { ...data, covariates: [{ parameter: "A", name: "c", values }] },
        { starts },
      ),
    ).toThrow(/one value of c in each group/);
    expect(() => fitNonlinearMixed({ ...data, random: ["B"] }, { starts })).toThrow(/"B"/);
  });

  it("raises the marginal likelihood with the integral, nodes agreeing", () => {
    const data = simulated(9, 8);
    const fit = fitNonlinearMixed(data, { starts });
    const three = maximiseMarginal(fit, { nodes: 3 });
    const five = maximiseMarginal(fitNonlinearMixed(data, { starts }), { nodes: 5 });
    expect(three.status).toBe("converged");
    expect(three.logLikelihood).toBeCloseTo(five.logLikelihood, 2);
    expect(three.fixed.estimates[0]! / five.fixed.estimates[0]!).toBeCloseTo(1, 4);
  });
});

describe("one individual under a fitted population", () => {
  const fit = fitNonlinearMixed(simulated(10, 15), { starts, method: "REML" });
  const prior = individualPrior(populationModel(fit));

  it("starts at the typical individual and shrinks its interval as observations arrive", () => {
    const one = makeIndividual(prior, logistic);
    const d = new Float64Array(3);
    const typical = logistic(20, Float64Array.from(prior.mean), d, 0);
    expect(one.predict(20).value).toBeCloseTo(typical, 9);
    let width = Number.POSITIVE_INFINITY;
    for (const day of [1, 3, 6, 10, 15]) {
      one.observe(day, logistic(day, Float64Array.of(33, 22, 10), d, 0));
      const p = one.predict(20);
      expect(p.upper - p.lower).toBeLessThan(width);
      width = p.upper - p.lower;
    }
    const truth = logistic(20, Float64Array.of(33, 22, 10), d, 0);
    expect(Math.abs(one.predict(20).value - truth)).toBeLessThan(0.5);
  });

  it("agrees with textbook normal updating when the mean is a straight line", () => {
    // Posterior of a normal linear model: covariance (P^-1 + X'X/s2)^-1 (Gelman et al., BDA3, ch. 14).
    const flat = {
      ...prior,
      parameters: ["a", "b"],
      logScale: [0, 0],
      mean: [1, 2],
      meanCovariance: [
        [0.01, 0],
        [0, 0.02],
      ],
      between: [
        [0.99, 0.3],
        [0.3, 0.48],
      ],
      sigma: 0.5,
      moved: [],
    };
    const one = makeIndividual(flat, line);
    const xs = [0, 1, 4];
    const ys = [1.4, 2.9, 10.1];
    xs.forEach((x, i) => {
      one.observe(x, ys[i]!);
    });
    // By hand: P = (1 .3; .3 .5), det .41.
    const inv = [0.5 / 0.41, -0.3 / 0.41, 1 / 0.41];
    const a = inv[0]! + 3 / 0.25;
    const b = inv[1]! + 5 / 0.25;
    const c = inv[2]! + 17 / 0.25;
    const det = a * c - b * b;
    const r = xs.map((x, i) => ys[i]! - 1 - 2 * x);
    const g0 = r.reduce((s, v) => s + v, 0) / 0.25;
    const g1 = r.reduce((s, v, i) => s + v * xs[i]!, 0) / 0.25;
    expect(one.eta[0]).toBeCloseTo(1 + (c * g0 - b * g1) / det, 8);
    expect(one.eta[1]).toBeCloseTo(2 + (-b * g0 + a * g1) / det, 8);
    expect(one.covariance[0]).toBeCloseTo(c / det, 10);
    expect(one.covariance[1]).toBeCloseTo(-b / det, 10);
  });

  it("tells population, individual and next reading apart", () => {
    const one = makeIndividual(prior, logistic);
    one.observe(2, 4);
    const individual = one.predict(10);
    const reading = one.predict(10, { what: "reading" });
    const population = one.predict(10, { of: "population" });
    expect(reading.upper - reading.lower).toBeGreaterThan(individual.upper - individual.lower);
    expect(population.value).not.toBeCloseTo(individual.value, 3);
    expect(population.se).toBeLessThan(individual.se * 2);
    one.reset();
    expect(one.predict(10).value).toBeCloseTo(population.value, 9);
  });

  it("does not care in which pieces the same observations arrive", () => {
    const one = makeIndividual(prior, logistic);
    const two = makeIndividual(prior, logistic);
    for (const [x, y] of [
      [1, 3.1],
      [4, 4.2],
      [8, 5.6],
    ] as const) {
      one.observe(x, y);
      one.predict(x + 3);
      two.observe(x, y);
    }
    expect(one.predict(12).value).toBeCloseTo(two.predict(12).value, 8);
  });
});

describe("bootstrap and calibration", () => {
  const data = simulated(12, 8);
  const fit = fitNonlinearMixed(data, { starts, method: "REML" });

  it("is the same for the same seed, differs for another, reports progress and can be cancelled", () => {
    let done = 0;
    const work = { replicates: 10, onProgress: (p: { done: number }) => (done = p.done) };
    const a = bootstrapNonlinearMixed(fit, data, { ...work, seed: 5 });
    expect(done).toBe(10);
    expect(bootstrapNonlinearMixed(fit, data, { ...work, seed: 5 })).toEqual(a);
    expect(bootstrapNonlinearMixed(fit, data, { ...work, seed: 6 }).sigma.se).not.toBe(a.sigma.se);
    const stop = new AbortController();
    stop.abort();
    expect(() => bootstrapNonlinearMixed(fit, data, { signal: stop.signal })).toThrow();
  });

  it("finds multipliers near the normal ones, larger without own observations", () => {
    const { multipliers } = calibrateIndividuals(fit, data, {
      replicates: 40,
      individuals: 20,
      ahead: 7,
      first: 1,
      spacing: 1,
      counts: [0, 3],
      seed: 2,
    });
    for (const m of multipliers) {
      expect(m.multiplier).toBeGreaterThan(1.6);
      expect(m.multiplier).toBeLessThan(4);
    }
  });
});

describe("parts", () => {
  it("integrates polynomials exactly by Gauss-Hermite", () => {
    // Moments of exp(-x^2): sqrt(pi), sqrt(pi)/2, 3 sqrt(pi)/4 (Abramowitz and Stegun 7.4.4).
    for (const n of [3, 6, 15]) {
      const { nodes, weights } = gaussHermite(n);
      const moment = (k: number) => nodes.reduce((s, x, i) => s + weights[i]! * x ** k, 0);
      expect(moment(0)).toBeCloseTo(Math.sqrt(Math.PI), 12);
      expect(moment(2)).toBeCloseTo(Math.sqrt(Math.PI) / 2, 12);
      expect(moment(4)).toBeCloseTo((3 * Math.sqrt(Math.PI)) / 4, 11);
    }
  });

  it("whitens a continuous-time autoregression to independent rows", () => {
    // Three times 0, 1, 3 with phi 0.5: the inverse of the correlation matrix by hand.
    const c = neighbourCorrelations([0, 1, 3], Int32Array.of(0, 3), 0.5);
    const rows = Float64Array.of(1, 2, 3);
    const logDet = whitenRows(rows, 1, c);
    const matrix = [
      [1, 0.5, 0.125],
      [0.5, 1, 0.25],
      [0.125, 0.25, 1],
    ];
    const det = 1 * (1 - 0.0625) - 0.5 * (0.5 - 0.25 * 0.125) + 0.125 * (0.5 * 0.25 - 0.125);
    expect(logDet).toBeCloseTo(Math.log(det), 12);
    // v' R^-1 v by Cramer's rule.
    const cof = (i: number, j: number) => {
      const r = [0, 1, 2].filter((k) => k !== i);
      const s = [0, 1, 2].filter((k) => k !== j);
      const sign = (i + j) % 2 === 0 ? 1 : -1;
      return (
        sign *
        (matrix[r[0]!]![s[0]!]! * matrix[r[1]!]![s[1]!]! -
          matrix[r[0]!]![s[1]!]! * matrix[r[1]!]![s[0]!]!)
      );
    };
    let form = 0;
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) form += ((i + 1) * (j + 1) * cof(i, j)) / det;
    expect(rows.reduce((s, v) => s + v * v, 0)).toBeCloseTo(form, 12);
  });
});
