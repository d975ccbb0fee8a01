import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { UsageError } from "../../src/core/usage-error.js";
import { type CurveName, growthCurves } from "../../src/growth/curve-catalogue.js";
import { ageAtMass, maturityAt, relativeGainAt } from "../../src/growth/derive-growth.js";
import { fitCurve } from "../../src/growth/fit-curve.js";
import { knownErrors, relativeWeights } from "../../src/growth/fit-errors.js";
import { predictGain, predictMass } from "../../src/growth/predict-growth.js";

// NIST StRD Rat42 (https://www.itl.nist.gov/div898/strd/).
const rat42 = {
  ages: [9, 14, 21, 28, 42, 57, 63, 70, 79],
  masses: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
};

/** A made-up animal whose curve every sigmoid can follow. */
function series(seed: number, n = 30, noise = 0.02): { ages: number[]; masses: number[] } {
  const random = seededRandom(seed);
  const ages = Array.from({ length: n }, (_, i) => 1 + 4 * i + random.uniform());
  const masses = ages.map(
    (t) => 12000 * Math.exp(-Math.exp(-0.03 * (t - 45))) * (1 + noise * random.normal()) + 1500,
  );
  return { ages, masses };
}

function closeTo(a: number | null | undefined, b: number, digits: number): void {
  expect(Math.abs(a! - b) / Math.abs(b)).toBeLessThan(10 ** -digits);
}

describe("invariance", () => {
  const tested: readonly CurveName[] = [
    "linear",
    "exponential",
    "monomolecular",
    "brody",
    "logistic",
    "logistic-from-floor",
    "gompertz",
    "gompertz-start-mass",
    "von-bertalanffy-mass",
    "richards",
    "weibull",
    "michaelis-menten",
    "schnute",
    "linear-plateau",
    "broken-stick",
  ];

  it.each(tested)("%s: unit of mass from tonnes to milligrams", (curve) => {
    const data = series(11);
    const base = fitCurve(data, { curve });
    for (const times of [1e-6, 1e-3, 1e3]) {
      const fit = fitCurve(
        { ages: data.ages, masses: data.masses.map((w) => w * times) },
        { curve },
      );
      expect(fit.value.status).toBe(base.value.status);
      fit.value.estimates.forEach((each, j) => {
        const factor = each.kind === "mass" || each.kind === "gain" ? times : 1;
        closeTo(each.estimate.value, base.value.estimates[j]!.estimate.value! * factor, 6);
        closeTo(each.estimate.se, base.value.estimates[j]!.estimate.se! * factor, 5);
        expect(each.identified).toBe(base.value.estimates[j]!.identified);
      });
    }
  });

  it.each(tested)("%s: unit of age", (curve) => {
    const data = series(12);
    const base = fitCurve(data, { curve });
    for (const times of [1 / 7, 24, 86400e3]) {
      const fit = fitCurve(
        { ages: data.ages.map((t) => t * times), masses: data.masses },
        { curve },
      );
      fit.value.estimates.forEach((each, j) => {
        const factor =
          each.kind === "age" || each.kind === "duration"
            ? times
            : each.kind === "rate" || each.kind === "gain" || each.name === "a"
              ? 1 / times
              : 1;
        closeTo(each.estimate.value, base.value.estimates[j]!.estimate.value! * factor, 6);
        closeTo(each.estimate.se, base.value.estimates[j]!.estimate.se! * factor, 5);
      });
    }
  });

  it.each(tested)("%s: zero of age (epoch days)", (curve) => {
    const data = series(13);
    const base = fitCurve(data, { curve, origin: 0 });
    const shift = 20000;
    const fit = fitCurve(
      { ages: data.ages.map((t) => t + shift), masses: data.masses },
      { curve, origin: shift },
    );
    fit.value.estimates.forEach((each, j) => {
      const moved = each.kind === "age" ? shift : 0;
      closeTo(each.estimate.value! - moved, base.value.estimates[j]!.estimate.value!, 6);
      closeTo(each.estimate.se, base.value.estimates[j]!.estimate.se!, 5);
    });
    // Without a word about the origin, only start masses may differ, and that is said.
    const plain = fitCurve(
      { ages: data.ages.map((t) => t + shift), masses: data.masses },
      { curve },
    );
    if (growthCurves[curve].usesOrigin) {
      expect(plain.notices.map((each) => each.code)).toContain("growth-origin-moved");
    } else {
      plain.value.estimates.forEach((each, j) => {
        const moved = each.kind === "age" ? shift : 0;
        closeTo(each.estimate.value! - moved, base.value.estimates[j]!.estimate.value!, 6);
      });
    }
  });

  it("order of rows (property)", () => {
    const data = series(14, 20);
    const base = fitCurve(data, { curve: "logistic-from-floor" });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1e6 }), (seed) => {
        const order = seededRandom(seed).shuffled(data.ages.map((_, i) => i));
        const fit = fitCurve(
          { ages: order.map((i) => data.ages[i]!), masses: order.map((i) => data.masses[i]!) },
          { curve: "logistic-from-floor" },
        );
        expect(fit.value).toEqual(base.value);
      }),
      { seed: 20261125, numRuns: 50 },
    );
  });

  it("replicated rows: same estimates, standard errors by the degrees of freedom", () => {
    const data = series(15, 20);
    const base = fitCurve(data, { curve: "gompertz" }).value;
    const thrice = fitCurve(
      {
        ages: [...data.ages, ...data.ages, ...data.ages],
        masses: [...data.masses, ...data.masses, ...data.masses],
      },
      { curve: "gompertz" },
    ).value;
    // Each replicate adds the same RSS and J'J: var = RSS/(3n - p) * (J'J)^-1.
    const ratio = Math.sqrt((20 - 3) / (60 - 3));
    thrice.estimates.forEach((each, j) => {
      closeTo(each.estimate.value, base.estimates[j]!.estimate.value!, 7);
      closeTo(each.estimate.se, base.estimates[j]!.estimate.se! * ratio, 6);
    });
    closeTo(thrice.rss, 3 * base.rss!, 9);
  });
});

describe("ill-posed data", () => {
  it("gives a status and never an exception, whatever the numbers (property)", () => {
    const odd = fc.oneof(
      fc.double(),
      fc.double({ min: 0, max: 100, noNaN: true }),
      fc.integer({ min: -3, max: 60 }),
      fc.constantFrom(0, 1, 1e-300, 1e300, Number.NaN, Number.POSITIVE_INFINITY),
    );
    fc.assert(
      fc.property(
        fc.array(fc.tuple(odd, odd), { maxLength: 12 }),
        fc.constantFrom(...(Object.keys(growthCurves) as CurveName[])),
        (rows, curve) => {
          const fit = fitCurve(
            { ages: rows.map((row) => row[0]), masses: rows.map((row) => row[1]) },
            { curve },
          );
          expect(["converged", "not-converged", "too-few-points"]).toContain(fit.value.status);
          expect(
            fit.basis.used + fit.basis.leftOut.reduce((sum, each) => sum + each.count, 0),
          ).toBe(rows.length);
          const text = JSON.stringify(fit, (_, x) =>
            typeof x === "number" && !Number.isFinite(x) ? "BAD NUMBER" : x,
          );
          expect(text).not.toContain("BAD NUMBER");
          if (!fit.value.converged) {
            expect(fit.value.theta).toBeNull();
            expect(fit.notices.length).toBeGreaterThan(0);
          }
        },
      ),
      { seed: 20261125, numRuns: 1500 },
    );
  });

  it.each(Object.keys(growthCurves) as CurveName[])(
    "%s on constant, falling and two-age data",
    (curve) => {
      const ages = Array.from({ length: 12 }, (_, i) => i + 1);
      for (const masses of [
        ages.map(() => 5),
        ages.map((t) => 50 - 3 * t),
        ages.map((t) => (t < 6 ? 3 : 9)),
      ]) {
        expect(() => fitCurve({ ages, masses }, { curve })).not.toThrow();
      }
      const two = fitCurve(
        { ages: [1, 1, 1, 2, 2, 2, 2], masses: [3, 4, 3, 5, 6, 5, 5] },
        { curve },
      );
      const free = growthCurves[curve].parameters.length;
      expect(two.value.status).toBe(free <= 2 ? "converged" : "too-few-points");
    },
  );

  it("leaves out and counts what cannot be used", () => {
    const fit = fitCurve(
      { ages: [...rat42.ages, Number.NaN, 90], masses: [...rat42.masses, 70, -1] },
      { curve: "logistic" },
    );
    expect(fit.basis.used).toBe(9);
    expect(fit.basis.leftOut).toEqual([
      { reason: "age or mass is missing or not a number", count: 1 },
      { reason: "mass is not above zero", count: 1 },
    ]);
    closeTo(fit.value.estimates[0]!.estimate.value, 72.462237576, 8);
  });
});

describe("data without residuals", () => {
  it.each([
    ["exponential", [20, 0.03]],
    ["monomolecular", [80, 10, 0.02]],
    ["logistic", [80, 0.05, 60]],
    ["logistic-from-floor", [80, 10, 0.05, 60]],
    ["gompertz", [80, 0.04, 50]],
    ["gompertz-start-mass", [80, 3, 0.04]],
    ["von-bertalanffy-mass", [80, 0.02, -20]],
    ["richards", [80, 0.012, 50, 1.4]],
    ["weibull", [80, 5, 0.012, 1.7]],
    ["michaelis-menten", [80, 5, 70, 2.2]],
    ["schnute", [3, 75, 0.03, 0.4]],
    ["double-logistic", [30, 0.15, 25, 50, 0.08, 95]],
    ["broken-stick", [5, 0.7, 0.2, 61.5]],
    ["linear-plateau", [5, 0.7, 81.5]],
  ] as const)("%s converges to the parameters", (curve, truth) => {
    const ages = Array.from({ length: 40 }, (_, i) => 1 + 3 * i);
    const out = new Float64Array(6);
    const made = growthCurves[curve] as (typeof growthCurves)["schnute"];
    const c = made.constants?.(ages) ?? [];
    const masses = ages.map((t) => made.gradient(t, truth, out, 0, c));
    const fit = fitCurve({ ages, masses }, { curve });
    expect(fit.value.converged).toBe(true);
    expect(["exact-fit", "rounding", "relative-offset"]).toContain(fit.value.stop);
    truth.forEach((each, j) => {
      closeTo(fit.value.theta![j], each, 6);
    });
  });
});

describe("weights", () => {
  it("refuses a bare array, which could mean two things", () => {
    const errors = [1, 1, 1, 1, 1, 1, 1, 1, 1] as never;
    expect(() => fitCurve({ ...rat42, errors }, { curve: "logistic" })).toThrow(UsageError);
    expect(() =>
      fitCurve({ ...rat42, errors: knownErrors([1, 2]) }, { curve: "logistic" }),
    ).toThrow(UsageError);
  });

  it("known errors equal to NIST's residual sd give NIST's standard errors", () => {
    const errors = knownErrors(rat42.ages.map(() => 1.1587725499));
    const { value } = fitCurve({ ...rat42, errors }, { curve: "logistic" });
    closeTo(value.estimates[0]!.estimate.value, 72.462237576, 8);
    closeTo(value.estimates[0]!.estimate.se, 1.7340283401, 7);
    // Ten times larger known errors: ten times larger standard errors, same estimates.
    const ten = fitCurve(
      { ...rat42, errors: knownErrors(rat42.ages.map(() => 11.587725499)) },
      { curve: "logistic" },
    ).value;
    closeTo(ten.estimates[0]!.estimate.se, 17.340283401, 7);
  });

  it("relative weights count by their ratios only", () => {
    const weights = rat42.ages.map((_, i) => 1 / (1 + i));
    const one = fitCurve(
      { ...rat42, errors: relativeWeights(weights) },
      { curve: "logistic" },
    ).value;
    const two = fitCurve(
      { ...rat42, errors: relativeWeights(weights.map((w) => 100 * w)) },
      { curve: "logistic" },
    ).value;
    one.estimates.forEach((each, j) => {
      closeTo(each.estimate.value, two.estimates[j]!.estimate.value!, 8);
      closeTo(each.estimate.se, two.estimates[j]!.estimate.se!, 7);
    });
    closeTo(one.logLikelihood! + 1, two.logLikelihood! + 1, 8);
  });
});

describe("fixed parameters and limits", () => {
  it("keeps a fixed parameter and counts it out", () => {
    const { value } = fitCurve(rat42, { curve: "logistic", fixed: { A: 80 } });
    expect(value.estimates[0]!.estimate).toEqual({ value: 80, unit: "g", n: 9 });
    expect(value.estimates[0]!.identified).toBe(true);
    expect(value.residualDf).toBe(7);
    expect(value.rss!).toBeGreaterThan(8.0565229338);
  });

  it("lets go of a limit that the optimum does not touch, even when it starts there", () => {
    const { value } = fitCurve(rat42, {
      curve: "logistic",
      bounds: { A: { lower: 60, upper: 90 }, k: { lower: 0.01, upper: 0.5 } },
      start: { A: 60, k: 0.5, Ti: 10 },
    });
    closeTo(value.estimates[0]!.estimate.value, 72.462237576, 7);
    closeTo(value.estimates[1]!.estimate.value, 0.0673592, 6);
    expect(value.estimates.some((each) => each.atBound)).toBe(false);
  });

  it("says which parameter rests on a limit and fits the others to it", () => {
    const fit = fitCurve(rat42, { curve: "logistic", bounds: { A: { upper: 70 } } });
    const fixed = fitCurve(rat42, { curve: "logistic", fixed: { A: 70 } });
    expect(fit.value.estimates[0]!.atBound).toBe(true);
    expect(fit.value.estimates[0]!.estimate.se).toBeUndefined();
    expect(fit.notices.map((each) => each.code)).toContain("growth-parameter-at-bound");
    closeTo(fit.value.rss, fixed.value.rss!, 9);
    closeTo(fit.value.theta![1], fixed.value.theta![1]!, 7);
  });

  it("names an unknown parameter or curve as a caller's mistake", () => {
    expect(() => fitCurve(rat42, { curve: "logistic", fixed: { B: 1 } })).toThrow(/A, k, Ti/);
    expect(() => fitCurve(rat42, { curve: "logistik" as never })).toThrow(UsageError);
    expect(() => fitCurve({ ages: [1], masses: [] }, { curve: "linear" })).toThrow(UsageError);
  });
});

describe("a fit that ran off", () => {
  // Invented weighings from which no guess of the curve settles.
  const ages = [1.92, 4.26, 4.67, 5.88, 6.45, 9.02, 9.32, 13.6, 19.75, 22.8];
  const masses = [724, 776, 699, 798, 779, 842, 848, 1015, 1354, 1455];

  it("is tried again from scattered starts, and says so", () => {
    const fit = fitCurve({ ages, masses }, { curve: "double-logistic" });
    expect(fit.value.status).toBe("converged");
    expect(fit.notices).toContainEqual({
      code: "growth-restarted",
      level: "caution",
      parameters: { starts: 8 },
    });
    // Better than a straight line, so not any valley.
    expect(fit.value.rss!).toBeLessThan(fitCurve({ ages, masses }, { curve: "linear" }).value.rss!);
  });
});

describe("a mistake in the call is named as the mistake it is", () => {
  const ages = [1, 5, 10, 15, 20, 25, 30, 35, 40];
  const masses = ages.map((t) => 3000 * Math.exp(-1.8 * Math.exp(-0.05 * t)));

  it("numbers kept as text, even where they would compare like numbers", () => {
    expect(() =>
      fitCurve({ ages, masses: masses.map(String) as never }, { curve: "gompertz" }),
    ).toThrow(/numbers as masses.*row 0 is the text/);
    expect(() =>
      fitCurve({ ages: ages.map(String) as never, masses }, { curve: "gompertz" }),
    ).toThrow(/numbers as ages.*the text "1"/);
  });

  it("several ages where one is asked for", () => {
    const fit = fitCurve({ ages, masses }, { curve: "gompertz" });
    expect(() => predictMass(fit, [3, 5] as never)).toThrow(/an age as one number.*a list of 2/);
    expect(() => predictGain(fit, "3" as never)).toThrow(/an age as one number.*the text "3"/);
    expect(() => ageAtMass(fit, [900] as never)).toThrow(/a mass as one number.*a list of 1/);
    expect(() => relativeGainAt(fit, Number.NaN)).toThrow(/an age as one finite number/);
    expect(() => maturityAt(fit, undefined as never)).toThrow(/undefined came/);
  });

  it("masses that are not above zero are said, not only left out", () => {
    const spoilt = masses.map((m, i) => (i === 3 ? 0 : i === 5 ? -5 : m));
    const fit = fitCurve({ ages, masses: spoilt }, { curve: "gompertz" });
    expect(fit.notices).toContainEqual({
      code: "growth-masses-left-out",
      level: "caution",
      parameters: { count: 2 },
    });
    expect(fitCurve({ ages, masses }, { curve: "gompertz" }).notices).toEqual([]);
  });
});
