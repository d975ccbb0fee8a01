import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { UsageError } from "../../src/core/usage-error.js";
import { chooseCurve } from "../../src/growth/choose-curve.js";
import { compareFits } from "../../src/growth/compare-fits.js";
import { checkGradient, defineCurve } from "../../src/growth/define-curve.js";
import {
  ageAtMass,
  deriveGrowth,
  maturityAt,
  relativeGainAt,
} from "../../src/growth/derive-growth.js";
import { describeCurve } from "../../src/growth/describe-curve.js";
import { fitCurve } from "../../src/growth/fit-curve.js";
import { knownErrors } from "../../src/growth/fit-errors.js";
import { compileFormula } from "../../src/growth/formula.js";
import { predictGain, predictMass } from "../../src/growth/predict-growth.js";
import { residualPattern } from "../../src/growth/residual-pattern.js";

// NIST StRD Rat42 (https://www.itl.nist.gov/div898/strd/).
const rat42 = {
  ages: [9, 14, 21, 28, 42, 57, 63, 70, 79],
  masses: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
};
const chick1 = {
  ages: [0, 2, 4, 6, 8, 10, 12, 14, 16, 18, 20, 21],
  masses: [42, 51, 59, 64, 76, 93, 106, 125, 149, 171, 199, 205],
};
const near = (a: number, b: number) => Math.abs(a - b) / Math.abs(b);

describe("how many more weighings", () => {
  it("is said for an early life, and more of the same curve does identify it", () => {
    const theta = [900, 0.09, 35];
    const logistic = (t: number) => theta[0]! / (1 + Math.exp(-theta[1]! * (t - theta[2]!)));
    // Errors that alternate, so that the fit stays near the truth.
    const mass = (t: number, i: number) => logistic(t) + (i % 2 === 0 ? 4 : -4);
    const ages = Array.from({ length: 11 }, (_, i) => 2 * i);
    const early = fitCurve({ ages, masses: ages.map(mass) }, { curve: "logistic" });
    const said = early.notices.find((each) => each.code === "growth-next-step-weighings");
    expect(early.value.asymptoteIdentified).toBe(false);
    const more = said!.parameters["weighings"] as number;
    expect(more).toBeGreaterThan(0);
    expect(more).toBeLessThan(30);
    const later = Array.from({ length: 11 + 2 * more }, (_, i) => 2 * i);
    const then = fitCurve({ ages: later, masses: later.map(mass) }, { curve: "logistic" });
    expect(then.value.asymptoteIdentified).toBe(true);
  });
});

describe("derived quantities", () => {
  const fit = fitCurve(rat42, { curve: "logistic" });
  const [a, k, ti] = fit.value.theta!;
  const v = fit.value.covariance!;
  const derived = deriveGrowth(fit).value;

  it("have the closed forms of the logistic curve, errors by hand", () => {
    expect(derived.inflectionAge.value).toBeCloseTo(ti!, 10);
    expect(near(derived.inflectionAge.se!, Math.sqrt(v[2]![2]!))).toBeLessThan(1e-8);
    expect(derived.inflectionMass.value).toBeCloseTo(a! / 2, 9);
    expect(near(derived.inflectionMass.se!, Math.sqrt(v[0]![0]!) / 2)).toBeLessThan(1e-8);
    // A k / 4 with gradient (k/4, A/4).
    expect(derived.greatestGain.value).toBeCloseTo((a! * k!) / 4, 10);
    const variance = (k! ** 2 * v[0]![0]! + 2 * a! * k! * v[0]![1]! + a! ** 2 * v[1]![1]!) / 16;
    expect(near(derived.greatestGain.se!, Math.sqrt(variance))).toBeLessThan(1e-7);
    expect(derived.relativeGainAtInflection.value).toBeCloseTo(k! / 2, 10);
    expect(derived.greatestGain.unit).toBe("g/d");
  });

  it("age at a mass turns the curve round, with its error", () => {
    const target = ageAtMass(fit, 50);
    expect(predictMass(fit, target.value!).mean.value).toBeCloseTo(50, 9);
    // dt = dW / gain at the same age.
    const there = predictMass(fit, target.value!).mean;
    const gain = predictGain(fit, target.value!).mean.value!;
    expect(near(target.se!, there.se! / gain)).toBeLessThan(1e-6);
    expect(ageAtMass(fit, 100).why!.code).toBe("growth-target-never-reached");
  });

  it("degree of maturity and relative gain", () => {
    expect(maturityAt(fit, ti!).value).toBeCloseTo(0.5, 10);
    expect(near(relativeGainAt(fit, ti!).value!, k! / 2)).toBeLessThan(1e-9);
  });

  it("are refused where the final mass is not identified", () => {
    const early = fitCurve(chick1, { curve: "logistic" });
    expect(ageAtMass(early, 400).why!.code).toBe("growth-target-beyond-unidentified");
    expect(ageAtMass(early, 100).value).toBeGreaterThan(10);
    expect(deriveGrowth(early).value.finalMass.why!.code).toBe("growth-derived-needs-asymptote");
    expect(deriveGrowth(early).value.inflectionAge.value).toBeNull();
    expect(relativeGainAt(early, 10).value).toBeGreaterThan(0.05);
    expect(relativeGainAt(early, 100).value).toBeNull();
  });

  it("have no inflection where the curve has none", () => {
    const plain = fitCurve(rat42, { curve: "linear" });
    expect(deriveGrowth(plain).value.inflectionAge.why!.code).toBe("growth-derived-none");
  });
});

describe("choosing a curve", () => {
  it("takes the logistic for logistic data and explains it in two sentences", () => {
    const chosen = chooseCurve(rat42, {
      curves: ["linear", "exponential", "logistic", "gompertz", "von-bertalanffy-mass"],
    });
    expect(chosen.value.chosen).toBe("logistic");
    expect(chosen.value.explanation).toHaveLength(2);
    for (const each of chosen.value.explanation) expect(noticeText(each)).not.toContain("?");
    expect(chosen.value.ranking[0]!.behind).toBe(0);
    const weights = chosen.value.ranking.map((each) => each.weight ?? 0);
    expect(weights.reduce((sum, each) => sum + each, 0)).toBeCloseTo(1, 12);
  });

  it("lists failures with the reason instead of dropping them", () => {
    const few = chooseCurve({ ages: [0, 2, 4, 6, 8], masses: [42, 51, 59, 64, 76] });
    const failed = few.value.ranking.filter((each) => each.notRanked !== null);
    expect(few.value.ranking.length).toBe(few.value.fits.length);
    expect(failed.length).toBeGreaterThan(3);
    for (const each of failed) expect(noticeText(each.notRanked!).length).toBeGreaterThan(20);
    const none = chooseCurve({ ages: [1], masses: [40] });
    expect(none.value.chosen).toBeNull();
    expect(none.notices[0]!.code).toBe("growth-choice-none");
  });

  it("says that a curve stands alone where no other could be ranked", () => {
    const ages = [0, 10, 20, 30, 40, 50, 60];
    const masses = [2000, 2210, 2440, 2700, 2980, 3300, 3640];
    const only = compareFits([fitCurve({ ages, masses }, { curve: "exponential" })]);
    expect(only.explanation.map((n) => n.code)).toContain("growth-choice-only");
  });

  it("lets a residual pattern overrule a small lead", () => {
    const base = fitCurve(rat42, { curve: "logistic" });
    const bent = {
      ...base,
      value: {
        ...base.value,
        curve: "gompertz",
        aicc: base.value.aicc! - 3,
        points: {
          ...base.value.points,
          residuals: Array.from({ length: 40 }, (_, i) => (i < 20 ? 1 : -1)),
        },
      },
    };
    const { chosen, explanation } = compareFits([base, bent]);
    expect(chosen).toBe("logistic");
    expect(explanation[0]!.code).toBe("growth-choice-by-pattern");
  });

  it("refuses to rank what cannot be compared", () => {
    const base = fitCurve(rat42, { curve: "logistic" });
    const other = fitCurve(
      { ages: [...rat42.ages, 90], masses: [...rat42.masses, 69] },
      { curve: "gompertz" },
    );
    const known = fitCurve(
      { ...rat42, errors: knownErrors(rat42.ages.map(() => 1)) },
      { curve: "gompertz" },
    );
    const robust = fitCurve(rat42, { curve: "gompertz", loss: "huber" });
    const serial = fitCurve(rat42, { curve: "logistic", serial: true });
    const codes = compareFits([base, other, known, robust, serial]).ranking.map(
      (each) => each.notRanked?.code ?? null,
    );
    expect(codes).toEqual([
      null,
      "growth-not-ranked-data",
      "growth-not-ranked-errors",
      "growth-not-ranked-robust",
      "growth-not-ranked-errors",
    ]);
  });
});

describe("residual pattern", () => {
  it("has the exact chance of few runs, counted by hand", () => {
    // 3 of each sign: 20 orders, of which 2 have 2 runs and 4 have 3 runs.
    expect(residualPattern([1, 1, 1, -1, -1, -1]).fewRuns).toBeCloseTo(2 / 20, 12);
    expect(residualPattern([1, 1, -1, -1, -1, 1]).fewRuns).toBeCloseTo(6 / 20, 12);
    expect(residualPattern([1, -1, 1, -1, 1, -1]).fewRuns).toBeCloseTo(1, 12);
    expect(residualPattern([1, -1]).fewRuns).toBeNull();
  });

  it("has von Neumann's ratio", () => {
    // Steps of 2, three of them; mean square 1: (12 / 3) * (4 / 4).
    expect(residualPattern([1, -1, 1, -1]).neighbourRatio).toBeCloseTo(4, 12);
  });
});

describe("a curve of one's own", () => {
  const own = defineCurve({
    name: "own-logistic",
    formula: "A / (1 + exp(-k * (t - Ti)))",
    asymptote: "A",
    parameters: [
      { name: "A", meaning: "the final mass", kind: "mass", start: 100 },
      { name: "k", meaning: "the rate", kind: "rate", start: 0.1 },
      { name: "Ti", meaning: "the age at the inflection", kind: "age", start: 30 },
    ],
  });

  it("gives the certified Rat42 results with its numeric gradient", () => {
    const { value } = fitCurve(rat42, { curve: own });
    expect(value.converged).toBe(true);
    expect(near(value.estimates[0]!.estimate.value!, 72.462237576)).toBeLessThan(1e-8);
    expect(near(value.estimates[0]!.estimate.se!, 1.7340283401)).toBeLessThan(1e-6);
    expect(near(value.estimates[1]!.estimate.value!, 0.0673592)).toBeLessThan(1e-7);
    const there = predictMass(fitCurve(rat42, { curve: own }), 50, { curve: own });
    expect(
      near(there.mean.value!, predictMass(fitCurve(rat42, { curve: "logistic" }), 50).mean.value!),
    ).toBeLessThan(1e-7);
  });

  it("has its gradient checked, and a rough one is named", () => {
    expect(checkGradient(own, rat42.ages, [72, 0.07, 38]).notice.code).toBe(
      "growth-gradient-checked",
    );
    const kinked = defineCurve({
      name: "kinked",
      formula: "a * abs(t - b)",
      parameters: [
        { name: "a", meaning: "the slope", kind: "gain", start: 1 },
        { name: "b", meaning: "the corner", kind: "age", start: 20 },
      ],
    });
    expect(checkGradient(kinked, [20.001], [1, 20]).notice.code).toBe("growth-gradient-rough");
  });

  it("reads formulas by the usual rules and never runs text as code", () => {
    const at = (text: string, t = 2) => compileFormula(text, ["t"])([t]);
    expect(at("1 + 2 * 3 ^ 2 ^ 0.5")).toBeCloseTo(1 + 2 * 3 ** (2 ** 0.5), 12);
    expect(at("-t ^ 2")).toBe(-4);
    expect(at("2 ^ -1")).toBe(0.5);
    expect(at("8 / 4 / 2")).toBe(1);
    expect(at("7 - 4 - 2")).toBe(1);
    expect(at("max(t, 3) + min(1, 2) + log(exp(1.5)) + 1e-3")).toBeCloseTo(5.501, 12);
    for (const bad of [
      "",
      "t +",
      "(t",
      "t t",
      "process.exit()",
      "constructor",
      "exp t",
      "q * t",
      "t = 1",
    ]) {
      expect(() => compileFormula(bad, ["t"])).toThrow(UsageError);
    }
    expect(() => defineCurve({ name: "logistic", formula: "t", parameters: [] })).toThrow(/taken/);
  });
});

describe("describing a curve", () => {
  it("gives equation and meaning in words with units", () => {
    const { value } = describeCurve("gompertz", { ageUnit: "weeks", massUnit: "kg" });
    expect(value.equation).toBe("W(t) = A exp(-exp(-k (t - Ti)))");
    expect(value.parameters.map((each) => each.unit)).toEqual(["kg", "1/weeks", "weeks"]);
    const text = value.lines.map((each) => noticeText(each));
    expect(text[1]).toBe("A is the final mass (asymptote) (unit: kg).");
    expect(text).toHaveLength(5);
    for (const each of text) expect(each).not.toContain("?");
  });

  it("adds the fitted values of a fit", () => {
    const { value } = describeCurve(fitCurve(rat42, { curve: "logistic" }));
    expect(value.parameters[0]!.value).toBeCloseTo(72.462237576, 6);
    expect(noticeText(value.lines[1]!)).toMatch(/: 72\.5\s?g/);
  });
});
