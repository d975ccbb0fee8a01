import { describe, expect, it } from "vitest";
import { fitCurve } from "../../../src/growth/fit-curve.js";
import { predictMass } from "../../../src/growth/predict-growth.js";
import { orangeAges, orangeTrees } from "../mixed-models/orange-trees.js";

/**
 * Trunk circumference of five orange trees (Draper and Smith, Applied
 * Regression Analysis, 3rd ed. 1998, exercise 24.N; Pinheiro and Bates 2000)
 * and chick 1 of the ChickWeight set (Crowder and Hand 1990). Expected values
 * computed with R 4.2 `nls` and polished to a relative offset below 1e-12.
 */
const trees = Object.values(orangeTrees);

describe("orange trees, pooled logistic", () => {
  const fit = fitCurve(
    { ages: trees.flatMap(() => orangeAges), masses: trees.flat() },
    { curve: "logistic", massUnit: "mm" },
  );

  it("has the estimates and standard errors of R's nls", () => {
    const [a, k, ti] = fit.value.estimates.map((each) => each.estimate);
    expect(a!.value).toBeCloseTo(192.687591941632, 6);
    expect(a!.se).toBeCloseTo(20.24411175, 6);
    expect(1 / k!.value!).toBeCloseTo(353.5336655498352, 5);
    // The delta method for 1/k: se(scal) = se(k) / k^2.
    expect(k!.se! / k!.value! ** 2).toBeCloseTo(81.471834318, 5);
    expect(ti!.value).toBeCloseTo(728.756383297, 5);
    expect(ti!.se).toBeCloseTo(107.298356546, 4);
    expect(ti!.unit).toBe("d");
    expect(k!.unit).toBe("1/d");
  });

  it("has the residual sum of squares and AIC of R's nls", () => {
    expect(fit.value.rss).toBeCloseTo(17480.2335, 3);
    expect(fit.value.aic).toBeCloseTo(324.7974254438345, 6);
    expect(fit.value.converged).toBe(true);
    expect(fit.value.identified).toBe(true);
  });
});

describe("chick 1, an early life", () => {
  const ages = [0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 21];
  const masses = [42, 51, 59, 64, 76, 93, 106, 125, 149, 171, 199, 205];
  const fit = fitCurve({ ages, masses }, { curve: "logistic" });

  it("finds the optimum of R's nls and says that the final mass is not identified", () => {
    const a = fit.value.estimates[0]!;
    expect(a.estimate.value! / 937.0205654485384).toBeCloseTo(1, 6);
    expect(a.estimate.se! / 465.8569060222545).toBeCloseTo(1, 5);
    expect(fit.value.rss).toBeCloseTo(76.66235625618842, 7);
    expect(a.identified).toBe(false);
    expect(fit.value.asymptoteIdentified).toBe(false);
    expect(fit.notices.map((each) => each.code)).toContain("growth-asymptote-not-identified");
    expect(fit.notices.map((each) => each.code)).toContain("growth-next-step-asymptote");
  });

  it("predicts within the ages and refuses beyond them", () => {
    expect(predictMass(fit, 10).mean.value).toBeCloseTo(92.50348293575453, 6);
    expect(predictMass(fit, 10).withinAges).toBe(true);
    const beyond = predictMass(fit, 60);
    expect(beyond.mean.value).toBeNull();
    expect(beyond.mean.why?.code).toBe("growth-prediction-beyond-unidentified");
  });

  it("reaches the far optimum of the Gompertz curve that R's self-start misses", () => {
    const far = fitCurve({ ages, masses }, { curve: "gompertz" });
    expect(far.value.converged).toBe(true);
    expect(far.value.theta![0]! / 586507.171456342).toBeCloseTo(1, 5);
    expect(far.value.rss! / 84.60466867787598).toBeCloseTo(1, 9);
    expect(far.value.asymptoteIdentified).toBe(false);
  });
});
