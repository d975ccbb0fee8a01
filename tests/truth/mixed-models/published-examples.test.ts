import { describe, expect, it } from "vitest";
import { fitCohort } from "../../../src/growth/cohort/fit-cohort.js";
import { containmentDf } from "../../../src/stats/linear-mixed/containment.js";
import { estimateContrast, prepareInference } from "../../../src/stats/linear-mixed/contrasts.js";
import { fitLinearMixed } from "../../../src/stats/linear-mixed/fit-linear-mixed.js";
import { fitNonlinearMixed } from "../../../src/stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import { maximiseMarginal } from "../../../src/stats/nonlinear-mixed/marginal.js";
import { inhibitionZones } from "./inhibition-zones.js";
import { jawRows } from "./jaw-distances.js";
import { logisticMean } from "./nonlinear-models.js";
import { orangeAges, orangeTrees } from "./orange-trees.js";

/**
 * Two published data sets with figures of general-purpose software (R 4.2.2: nlme
 * 3.1-162, lme4 1.1-31, lmerTest 3.1-3, pbkrtest 0.5-2), so that a fresh clone
 * checks the mixed models against something outside the project.
 */
const trees = Object.entries(orangeTrees);
const orange = {
  x: trees.flatMap(() => orangeAges),
  response: trees.flatMap(([, c]) => c),
  group: trees.flatMap(([tree]) => orangeAges.map(() => tree)),
  mean: logisticMean,
  parameters: ["Asym", "xmid", "scal"],
  random: ["Asym"],
};

describe("orange trees, logistic with random asymptote", () => {
  it("agrees with nlme under ML", () => {
    const fit = fitNonlinearMixed(orange, { starts: [[170, 700, 350]] });
    expect(fit.status).toBe("converged");
    const expected = [191.0490008517688, 722.5559798125201, 344.1623819667038];
    expected.forEach((v, k) => {
      expect(fit.fixed.estimates[k]! / v).toBeCloseTo(1, 7);
    });
    expect(fit.fixed.standardErrors[0]).toBeCloseTo(16.154029409481154, 5);
    expect(fit.random.sd[0]).toBeCloseTo(31.48255783245061, 5);
    expect(fit.sigma).toBeCloseTo(7.846254486524764, 6);
    expect(fit.logLikelihood).toBeCloseTo(-131.58457910662156, 6);
  });

  it("agrees with lme4::nlmer by Laplace; quadrature changes nothing where the asymptote enters linearly", () => {
    const fit = fitNonlinearMixed(orange, { starts: [[170, 700, 350]] });
    for (const nodes of [1, 7]) {
      const marginal = maximiseMarginal(fit, { nodes });
      expect(marginal.status).toBe("converged");
      // nlmer stops a little short of the maximum: 1e-9 in log-likelihood, 2e-5 in scal.
      expect(marginal.logLikelihood).toBeCloseTo(-131.5718852125199, 6);
      expect(marginal.fixed.estimates[0]! / 192.0529663574893).toBeCloseTo(1, 5);
      expect(marginal.fixed.estimates[1]! / 727.9121252802262).toBeCloseTo(1, 4);
      expect(marginal.fixed.estimates[2]! / 348.0768293703876).toBeCloseTo(1, 4);
      expect(marginal.random.sd[0]! / 31.64648154045207).toBeCloseTo(1, 4);
      expect(marginal.sigma / 7.843011659645506).toBeCloseTo(1, 5);
    }
  });

  it("comes out the same through a cohort of animals and the catalogue's logistic curve", () => {
    const fit = fitCohort(
      trees.map(([animal, masses]) => ({ animal, ages: orangeAges, masses })),
      { curve: "logistic", random: ["A"], method: "ML" },
    );
    expect(fit.value.status).toBe("converged");
    const [a, k, ti] = fit.value.parameters;
    expect(a!.typical.value! / 191.0490008517688).toBeCloseTo(1, 6);
    expect(k!.typical.value! * 344.1623819667038).toBeCloseTo(1, 6);
    expect(ti!.typical.value! / 722.5559798125201).toBeCloseTo(1, 6);
    expect(a!.between!.value).toBeCloseTo(31.48255783245061, 4);
    expect(fit.value.logLikelihood).toBeCloseTo(-131.58457910662156, 6);
    const laplace = fitCohort(
      trees.map(([animal, masses]) => ({ animal, ages: orangeAges, masses })),
      { curve: "logistic", random: ["A"], quadrature: 1 },
    );
    expect(laplace.value.parameters[0]!.typical.value! / 192.0529663574893).toBeCloseTo(1, 5);
    expect(laplace.value.logLikelihood).toBeCloseTo(-131.5718852125199, 6);
  });
});

describe("jaw distances of boys and girls", () => {
  const { response: y, age, subject, one, fixed } = jawRows();

  it("agrees with lmer, lmerTest and pbkrtest: random intercept and slope, REML", () => {
    const fit = fitLinearMixed({
      response: y,
      fixed,
      levels: [{ name: "subject", group: subject, names: ["one", "age"], columns: [one, age] }],
    });
    expect(fit.logLikelihood).toBeCloseTo(-216.2908307513041, 6);
    expect(fit.random[0]!.sd[0]).toBeCloseTo(2.4055, 3);
    expect(fit.random[0]!.sd[1]).toBeCloseTo(0.18035, 4);
    for (const [method, df] of [
      ["kenward-roger", 25],
      ["satterthwaite", 25.0000027],
    ] as const) {
      const slope = estimateContrast(prepareInference(fit, method), [0, 0, 0, 1]);
      expect(slope.estimate).toBeCloseTo(-0.3048295454545, 8);
      expect(slope.se).toBeCloseTo(0.13473533793, 6);
      expect(slope.df).toBeCloseTo(df, 3);
      expect(slope.p).toBeCloseTo(0.03261385, 6);
    }
  });

  it("agrees with lme: random intercept", () => {
    const fit = fitLinearMixed({
      response: y,
      fixed,
      levels: [{ name: "subject", group: subject, names: ["one"], columns: [one] }],
    });
    expect(fit.sigma).toBeCloseTo(1.3863819114417368, 7);
    expect(fit.random[0]!.sd[0]).toBeCloseTo(1.8162142016236726, 5);
    expect(fit.logLikelihood).toBeCloseTo(-216.87862460056817, 6);
    expect(containmentDf(fit).byColumn).toEqual([79, 79, 25, 79]);
  });
});

describe("zones of inhibition, plates crossed with samples", () => {
  const y = inhibitionZones.flat();
  const plate = inhibitionZones.flatMap((row, i) => row.map(() => i));
  const one = y.map(() => 1);
  const sample = Array.from({ length: 6 }, (_, j) => y.map((__, i) => (i % 6 === j ? 1 : 0)));
  // lme4 1.1-31: sd of plate, sd of sample, sigma, mean, its standard error, log-likelihood.
  for (const [method, plateSd, sampleSd, sigma, se, logLik] of [
    [
      "ML",
      0.8455721595473169,
      1.7706464197332228,
      0.5499321978508281,
      0.7445958492389976,
      -166.09417433425034,
    ],
    [
      "REML",
      0.8467043203178167,
      1.9315584980020561,
      0.5499231384541394,
      0.8085734275881689,
      -165.43029449554288,
    ],
  ] as const) {
    it(`agrees with lmer (${method})`, () => {
      const fit = fitLinearMixed(
        {
          response: y,
          fixed: { names: ["one"], columns: [one] },
          levels: [
            {
              name: "sample",
              group: one,
              names: [..."ABCDEF"],
              columns: sample,
              covariance: "identity",
            },
            { name: "plate", group: plate, names: ["one"], columns: [one] },
          ],
        },
        { method },
      );
      expect(fit.status).toBe("converged");
      expect(fit.logLikelihood).toBeCloseTo(logLik, 7);
      expect(fit.random[0]!.sd[0]! / sampleSd).toBeCloseTo(1, 6);
      expect(fit.random[1]!.sd[0]! / plateSd).toBeCloseTo(1, 6);
      expect(fit.sigma / sigma).toBeCloseTo(1, 7);
      expect(fit.fixed.estimates[0]).toBeCloseTo(22.97222222222, 9);
      const factor = method === "ML" ? Math.sqrt(144 / 143) : 1;
      expect(fit.fixed.standardErrors[0]! / (se * factor)).toBeCloseTo(1, 6);
      if (method === "REML") {
        expect(fit.random[1]!.effects[0]![0]).toBeCloseTo(0.8045470440684611, 5);
        expect(fit.random[0]!.effects[0]![5]).toBeCloseTo(-3.00374417145274, 5);
      }
    });
  }
});
