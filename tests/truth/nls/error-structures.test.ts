import { describe, expect, it } from "vitest";
import { fitCurve } from "../../../src/growth/fit-curve.js";
import { relativeWeights } from "../../../src/growth/fit-errors.js";
import { fitSharedCurve } from "../../../src/growth/fit-shared-curve.js";
import { profileParameter } from "../../../src/growth/profile-parameter.js";
import { orangeAges, orangeTrees } from "../mixed-models/orange-trees.js";

/**
 * Figures computed with R 4.2.2: MASS `rlm` (straight line), nlme `gls` and
 * `gnls` with corCAR1 (maximum likelihood), `nls` with weights and with common
 * parameters, and profile ends by root finding over refits. Data: ChickWeight
 * (Crowder and Hand 1990), BodyWeight (same source), Orange (Draper and Smith
 * 1998), Rat42 (NIST StRD).
 */
const chickAges = [0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 21];
const chicks = {
  10: [41, 44, 52, 63, 74, 81, 89, 96, 101, 112, 120, 124],
  20: [41, 47, 54, 58, 65, 73, 77, 89, 98, 107, 115, 117],
  35: [41, 53, 64, 87, 123, 158, 201, 238, 287, 332, 361, 373],
};
const near = (a: number, b: number) => Math.abs(a - b) / Math.abs(b);

describe("robust losses against rlm, chick 20, straight line", () => {
  const data = { ages: chickAges, masses: chicks[20] };

  it.each([
    [
      "huber",
      [37.759675251560154, 3.7356375996828413],
      [1.4955246002043963, 0.1163970427403842],
      3.050332989278937,
    ],
    [
      "bisquare",
      [37.71480244492768, 3.7382873045408265],
      [1.5665889623508813, 0.12192799930034454],
      3.0346193948653277,
    ],
  ] as const)("%s", (loss, coefficients, se, scale) => {
    const { value } = fitCurve(data, { curve: "linear", loss });
    expect(value.converged).toBe(true);
    coefficients.forEach((each, j) => {
      expect(near(value.estimates[j]!.estimate.value!, each)).toBeLessThan(1e-7);
      expect(near(value.estimates[j]!.estimate.se!, se[j]!)).toBeLessThan(1e-6);
    });
    expect(near(value.residualSd.value!, scale)).toBeLessThan(1e-7);
    expect(value.aicc).toBeNull();
    expect(value.points.robustWeights![6]!).toBeLessThan(0.74);
  });

  it("leaves a curve almost untouched by one misplaced decimal", () => {
    const ages = Array.from({ length: 30 }, (_, i) => 2 * i);
    const masses = ages.map((t, i) => 900 / (1 + Math.exp(-0.12 * (t - 30))) + (i % 3) - 1);
    masses[20] = masses[20]! * 10;
    const robust = fitCurve({ ages, masses }, { curve: "logistic", loss: "bisquare" }).value;
    expect(near(robust.estimates[0]!.estimate.value!, 900)).toBeLessThan(0.005);
    expect(robust.points.robustWeights![20]).toBe(0);
    const plain = fitCurve({ ages, masses }, { curve: "logistic" }).value;
    expect(plain.theta === null || near(plain.theta[0]!, 900) > 0.05).toBe(true);
  });
});

describe("serial errors against nlme", () => {
  it("gls, rat 1 of BodyWeight, straight line", () => {
    const ages = [1, 8, 15, 22, 29, 36, 43, 44, 50, 57, 64];
    const masses = [240, 250, 255, 260, 262, 258, 266, 266, 265, 272, 278];
    const { value } = fitCurve({ ages, masses }, { curve: "linear", serial: true });
    expect(near(value.theta![0]!, 243.99428982345708)).toBeLessThan(1e-5);
    expect(near(value.theta![1]!, 0.5075592754292154)).toBeLessThan(1e-5);
    expect(near(value.estimates[0]!.estimate.se!, 2.6118046707602605)).toBeLessThan(1e-4);
    expect(near(value.estimates[1]!.estimate.se!, 0.06689520024501902)).toBeLessThan(1e-4);
    expect(near(value.serial!.correlationPerAge, 0.829589323660844)).toBeLessThan(1e-4);
    expect(Math.abs(value.logLikelihood! + 27.616295085572002)).toBeLessThan(1e-5);
    expect(Math.abs(value.aic! - 63.232590171144004)).toBeLessThan(2e-5);
  });

  /**
   * The likelihood written out in full (dense correlation matrix) and maximised
   * with R's `optim`; standard errors from `gnls`, which stops a little short
   * of that maximum (its log-likelihoods are -32.6323356 and -24.2035349).
   */
  it.each([
    [
      35,
      [476.612162326449, 13.797956381143, 5.441775464855],
      [16.2417590659, 0.4517954041],
      0.348201743817,
      -32.632300857659,
    ],
    [
      10,
      [163.022617035005, 10.503854501215, 9.365474838922],
      [14.810487433, 1.923607008],
      0.587244367909,
      -24.203533052133,
    ],
  ] as const)("dense likelihood, chick %s, logistic", (chick, estimate, se, phi, logLik) => {
    const { value } = fitCurve(
      { ages: chickAges, masses: chicks[chick] },
      { curve: "logistic", serial: true },
    );
    const [a, k, ti] = value.estimates.map((each) => each.estimate);
    expect(near(a!.value!, estimate[0])).toBeLessThan(1e-7);
    expect(near(ti!.value!, estimate[1])).toBeLessThan(1e-7);
    expect(near(1 / k!.value!, estimate[2])).toBeLessThan(1e-7);
    expect(near(value.serial!.correlationPerAge, phi)).toBeLessThan(1e-5);
    expect(Math.abs(value.logLikelihood! - logLik)).toBeLessThan(1e-8);
    expect(near(a!.se!, se[0])).toBeLessThan(3e-3);
    expect(near(ti!.se!, se[1])).toBeLessThan(3e-3);
  });

  it("says so when two weighings share an age, or robust and serial are both asked for", () => {
    const data = { ages: [0, 2, 2, 4, 6, 8], masses: [40, 50, 51, 60, 72, 81] };
    const fit = fitCurve(data, { curve: "linear", serial: true });
    expect(fit.value.status).toBe("not-converged");
    expect(fit.notices.map((each) => each.code)).toContain("growth-serial-not-fitted");
    expect(() => fitCurve(data, { curve: "linear", serial: true, loss: "huber" })).toThrow();
  });
});

describe("relative weights against nls, chick 35", () => {
  it("estimates, standard errors, log-likelihood", () => {
    const weights = chickAges.map((_, i) => 1 / (1 + i / 4));
    const { value } = fitCurve(
      { ages: chickAges, masses: chicks[35], errors: relativeWeights(weights) },
      { curve: "logistic" },
    );
    const [a, k, ti] = value.estimates.map((each) => each.estimate);
    expect(near(a!.value!, 487.31721081111)).toBeLessThan(1e-7);
    expect(near(a!.se!, 18.734311049828)).toBeLessThan(1e-6);
    expect(near(ti!.value!, 14.09484041945)).toBeLessThan(1e-7);
    expect(near(ti!.se!, 0.514538058586)).toBeLessThan(1e-6);
    expect(near(1 / k!.value!, 5.58248647118)).toBeLessThan(1e-7);
    expect(Math.abs(value.logLikelihood! + 33.8758926657)).toBeLessThan(1e-8);
    expect(Math.abs(value.aic! - 75.7517853315)).toBeLessThan(1e-8);
    expect(near(value.rss!, 90.3490102692)).toBeLessThan(1e-9);
  });
});

const trees = Object.values(orangeTrees);

describe("shared parameters against nls, orange trees", () => {
  const series = trees.map((masses, i) => ({ name: `${i + 1}`, ages: orangeAges, masses }));
  const { value } = fitSharedCurve(series, { curve: "logistic", share: ["k", "Ti"] });

  it("own asymptotes, one age and one rate", () => {
    const asymptotes = [161.887312117, 224.403304703, 154.103562593, 233.070185156, 186.740140141];
    const errors = [7.13798840701, 8.83564497869, 6.94182649974, 9.08409859458, 7.78975416864];
    expect(value.converged).toBe(true);
    value.fits.forEach(({ fit }, i) => {
      const [a, k, ti] = fit.value.estimates.map((each) => each.estimate);
      expect(near(a!.value!, asymptotes[i]!)).toBeLessThan(1e-7);
      expect(near(a!.se!, errors[i]!)).toBeLessThan(1e-6);
      expect(near(ti!.value!, 727.890582376)).toBeLessThan(1e-7);
      expect(near(ti!.se!, 35.69192067681)).toBeLessThan(1e-6);
      expect(near(1 / k!.value!, 347.96737236)).toBeLessThan(1e-7);
      expect(near(k!.se! / k!.value! ** 2, 27.26160882242)).toBeLessThan(1e-6);
    });
    expect(near(value.rss!, 1845.3831450777)).toBeLessThan(1e-9);
    expect(near(value.residualSd!, 8.11828435666)).toBeLessThan(1e-9);
    expect(value.residualDf).toBe(28);
  });

  it("lends a young animal the final mass it cannot tell alone", () => {
    const young = { name: "young", ages: orangeAges.slice(0, 3), masses: trees[1]!.slice(0, 3) };
    const alone = fitCurve({ ages: young.ages, masses: young.masses }, { curve: "logistic" });
    expect(alone.value.status).toBe("too-few-points");
    const together = fitSharedCurve([...series, young], { curve: "logistic", share: ["A", "k"] });
    const own = together.value.fits.at(-1)!.fit.value;
    expect(own.converged).toBe(true);
    expect(own.asymptoteIdentified).toBe(true);
  });

  it("names the series it must leave out", () => {
    const one = { name: "one", ages: [118], masses: [30] };
    const fit = fitSharedCurve([...series, one], { curve: "logistic", share: ["k"] });
    expect(fit.basis.leftOut).toEqual([{ reason: "too few weighings", count: 1 }]);
    expect(fit.notices[0]!.code).toBe("growth-shared-left-out");
  });
});

describe("profile intervals against refits in R", () => {
  const sets = {
    rat42: {
      ages: [9, 14, 21, 28, 42, 57, 63, 70, 79],
      masses: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
      A: [68.7647653263, 77.1891392917],
      Ti: [36.283407308, 41.9772471913],
      scal: [13.1572762764, 16.8145837507],
    },
    orange3: {
      ages: orangeAges,
      masses: trees[2]!,
      A: [131.930707166, 284.813580702],
      Ti: [536.183654216, 1492.61531127],
      scal: [245.689499333, 751.345103591],
    },
    chick8: {
      ages: [0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20],
      masses: [42, 50, 61, 71, 84, 93, 110, 116, 126, 134, 125],
      A: [132.219512947, 168.291697572],
      Ti: [4.49815590223, 8.29381704493],
      scal: [4.68758842745, 7.92010560011],
    },
  };

  it.each(Object.entries(sets))("%s, logistic", (_, { ages, masses, A, Ti, scal }) => {
    const fit = fitCurve({ ages, masses }, { curve: "logistic" });
    const ends = (name: string) => profileParameter(fit, name).value!;
    expect(near(ends("A").lower!, A[0]!)).toBeLessThan(1e-5);
    expect(near(ends("A").upper!, A[1]!)).toBeLessThan(1e-5);
    expect(near(ends("Ti").lower!, Ti[0]!)).toBeLessThan(1e-5);
    expect(near(ends("Ti").upper!, Ti[1]!)).toBeLessThan(1e-5);
    // k = 1 / scal turns the interval round.
    expect(near(1 / ends("k").upper!, scal[0]!)).toBeLessThan(1e-5);
    expect(near(1 / ends("k").lower!, scal[1]!)).toBeLessThan(1e-5);
    expect(ends("A").trace.length).toBeGreaterThan(4);
  });

  it("has no upper limit for the final mass of an early life", () => {
    const fit = fitCurve(
      { ages: chickAges.slice(0, 7), masses: [42, 51, 59, 64, 76, 93, 106] },
      { curve: "logistic" },
    );
    if (fit.value.converged) {
      const profile = profileParameter(fit, "A");
      expect(profile.value!.upper).toBeNull();
      expect(profile.notices.map((each) => each.code)).toContain("growth-profile-unbounded");
    } else expect(fit.value.asymptoteIdentified).toBe(false);
  });

  it("is exact for a straight line (Student's t interval)", () => {
    const fit = fitCurve({ ages: chickAges, masses: chicks[20] }, { curve: "linear" });
    const profile = profileParameter(fit, "g").value!;
    expect(near(profile.lower!, profile.wald!.lower)).toBeLessThan(1e-6);
    expect(near(profile.upper!, profile.wald!.upper)).toBeLessThan(1e-6);
  });
});

describe("the broken stick against a fine grid and Brent's method", () => {
  it.each([
    [
      1,
      11.027587772215476,
      86.15055446836249,
      [42, 51, 59, 64, 76, 93, 106, 125, 149, 171, 199, 205],
    ],
    [20, 11.343321582445208, 17.12041748206132, chicks[20]],
    // The best break lies on a weighing age, at which no gradient vanishes.
    [24, 6, 55.78066970507435, [42, 52, 58, 74, 66, 68, 70, 71, 72, 72, 76, 74]],
    [35, 5.416288445161895, 255.99225955204233, chicks[35]],
  ] as const)("chick %s", (_, at, rss, masses) => {
    const { value } = fitCurve({ ages: chickAges, masses: [...masses] }, { curve: "broken-stick" });
    expect(value.converged).toBe(true);
    expect(Math.abs(value.theta![3]! - at)).toBeLessThan(1e-6 * 21);
    expect(near(value.rss!, rss)).toBeLessThan(1e-7);
  });
});
