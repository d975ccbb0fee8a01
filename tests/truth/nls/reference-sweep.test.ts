import { describe, expect, it } from "vitest";
import { fitCurve } from "../../../src/growth/fit-curve.js";
import { predictMass } from "../../../src/growth/predict-growth.js";
import { fitLeastSquares } from "../../../src/stats/least-squares/fit-least-squares.js";
import { readReference, readReferenceText } from "../reference-folder.js";
import { translatedCovariance, translations } from "./reference-curves.js";

/**
 * 164 curve fits on open data sets, computed with R 4.2 `nls` and polished to a
 * relative offset below 1e-12, and R's default success over whole data sets.
 * Tolerances as stated beside those values: estimates 1e-6, standard errors and
 * covariances 1e-5, RSS 1e-9 relative; log-likelihood and criteria 1e-7
 * absolute; chick31-richards 1e-3 (its own polish stopped at 3e-7).
 */
interface NlsCase {
  readonly id: string;
  readonly model: string;
  readonly input: { readonly x: readonly number[]; readonly y: readonly number[] };
  readonly converged: boolean;
  readonly best?: { readonly rss: number };
  readonly output: {
    readonly estimate: Readonly<Record<string, number>>;
    readonly se: Readonly<Record<string, number>>;
    readonly vcov: readonly (readonly number[])[];
    readonly rss: number;
    readonly sigma: number;
    readonly logLik: number;
    readonly AIC: number;
    readonly AICc: number | string | null;
    readonly BIC: number;
  };
}

const relative = (a: number, b: number) => Math.abs(a - b) / Math.max(Math.abs(b), 1e-12);

describe("curve fits against the reference folder", () => {
  const { cases } = readReference<{ cases: NlsCase[] }>("values/nls.json");
  const fitOf = (each: NlsCase) => {
    const { curve, fixed } = translations[each.model]!;
    return fitCurve(
      { ages: each.input.x, masses: each.input.y },
      { curve, ...(fixed === undefined ? {} : { fixed }) },
    );
  };

  it.each(cases.filter((each) => each.converged))("$id", (each) => {
    const { to, names } = translations[each.model]!;
    const { value } = fitOf(each);
    const loose = each.id === "chick31-richards";
    const want = each.output;
    expect(value.converged).toBe(true);
    const theta = to(value.theta!);
    const covariance = translatedCovariance(to, value.theta!, value.covariance!);
    names.forEach((name, j) => {
      expect(relative(theta[j]!, want.estimate[name]!)).toBeLessThan(loose ? 1e-3 : 1e-6);
      expect(relative(Math.sqrt(covariance[j]![j]!), want.se[name]!)).toBeLessThan(
        loose ? 1e-3 : 1e-5,
      );
      names.forEach((_, i) => {
        const scale = Math.sqrt(want.vcov[i]![i]! * want.vcov[j]![j]!);
        expect(Math.abs(covariance[i]![j]! - want.vcov[i]![j]!) / scale).toBeLessThan(
          loose ? 1e-3 : 1e-5,
        );
      });
    });
    expect(relative(value.rss!, want.rss)).toBeLessThan(1e-9);
    expect(relative(value.residualSd.value!, want.sigma)).toBeLessThan(1e-9);
    expect(Math.abs(value.logLikelihood! - want.logLik)).toBeLessThan(1e-7);
    expect(Math.abs(value.aic! - want.AIC)).toBeLessThan(2e-7);
    if (typeof want.AICc === "number") {
      expect(Math.abs(value.aicc! - want.AICc)).toBeLessThan(2e-7);
    }
    expect(Math.abs(value.bic! - want.BIC)).toBeLessThan(2e-7);
  });

  /**
   * Where the reference found no interior optimum: the asymptote must not be
   * called identified. Exception by better result: loblolly301-richards, for
   * which the reference searched shapes d > 1 only; the optimum at d = 0.19 has
   * a sum of squares of 0.594 against the reference's 2.08.
   */
  it.each(cases.filter((each) => !each.converged))("$id has no identified asymptote", (each) => {
    const { value, notices } = fitOf(each);
    if (each.id === "loblolly301-richards") {
      expect(value.converged).toBe(true);
      expect(value.rss!).toBeLessThan(each.best!.rss / 3);
      return;
    }
    expect(value.asymptoteIdentified).toBe(false);
    const codes = notices.map((one) => one.code);
    expect(
      codes.includes("growth-not-converged-asymptote") ||
        codes.includes("growth-asymptote-not-identified"),
    ).toBe(true);
    expect(codes).toContain("growth-next-step-asymptote");
  });

  it("has the confidence and prediction intervals of the delta method", () => {
    interface Intervals {
      readonly id: string;
      readonly model?: string;
      readonly input: { readonly x: number[]; readonly y: number[] };
      readonly x0: number[];
      readonly fit: number[];
      readonly se_fit: number[];
      readonly conf_lwr: number[];
      readonly conf_upr: number[];
      readonly pred_lwr: number[];
      readonly pred_upr: number[];
    }
    const list = readReference<{ cases: Intervals[] }>("values/prediction_intervals.json").cases;
    let compared = 0;
    for (const each of list.filter((one) => one.model !== undefined)) {
      const { curve } = translations[each.model!]!;
      const fit = fitCurve({ ages: each.input.x, masses: each.input.y }, { curve });
      each.x0.forEach((age, i) => {
        const { mean, newValue } = predictMass(fit, age);
        if (each.fit[i]! < 0) {
          // Before the curve's zero there is no mass; the reference prints a negative one.
          expect(mean.value).toBeNull();
          return;
        }
        expect(relative(mean.value!, each.fit[i]!)).toBeLessThan(1e-6);
        expect(relative(mean.se!, each.se_fit[i]!)).toBeLessThan(1e-6);
        expect(relative(mean.interval!.lower!, each.conf_lwr[i]!)).toBeLessThan(1e-6);
        expect(relative(mean.interval!.upper!, each.conf_upr[i]!)).toBeLessThan(1e-6);
        expect(relative(newValue.interval!.lower!, each.pred_lwr[i]!)).toBeLessThan(1e-5);
        expect(relative(newValue.interval!.upper!, each.pred_upr[i]!)).toBeLessThan(1e-6);
        compared++;
      });
    }
    expect(compared).toBeGreaterThan(20);
  });

  describe("success over whole data sets", () => {
    const columns: Readonly<Record<string, readonly [string, string, string, string]>> = {
      ChickWeight: ["ChickWeight.csv", "Chick", "Time", "weight"],
      Soybean: ["Soybean.csv", "Plot", "Time", "weight"],
      BodyWeight: ["BodyWeight.csv", "Rat", "Time", "weight"],
      Orange: ["Orange.csv", "Tree", "age", "circumference"],
      Loblolly: ["Loblolly.csv", "Seed", "age", "height"],
      "DNase(log conc)": ["DNase.csv", "Run", "conc", "density"],
      Oxboys: ["Oxboys.csv", "Subject", "age", "height"],
    };
    interface Survey {
      readonly data: string;
      readonly model: string;
      readonly series: number;
      readonly converged: number;
      readonly failed: readonly string[];
    }
    const survey = readReference<{ survey: Survey[] }>("values/nls_convergence_survey.json").survey;
    const found = readReference<{
      results: { data: string; model: string; interior_optimum_found: string[] }[];
    }>("values/nls_survey_recheck.json").results;

    const seriesOf = (data: string) => {
      const [file, id, x, y] = columns[data]!;
      const lines = readReferenceText(`data/${file}`)
        .trim()
        .split("\n")
        .map((line) => line.split(",").map((cell) => cell.replaceAll('"', "")));
      const at = (name: string) => lines[0]!.indexOf(name);
      const series = new Map<string, { ages: number[]; masses: number[] }>();
      for (const line of lines.slice(1)) {
        const key = line[at(id)]!;
        const one = series.get(key) ?? { ages: [], masses: [] };
        const age = Number(line[at(x)]);
        one.ages.push(data.startsWith("DNase") ? Math.log(age) : age);
        one.masses.push(Number(line[at(y)]));
        series.set(key, one);
      }
      return series;
    };

    /**
     * The recheck's optimum of these two has b2 < 0 in Asym exp(-b2 b3^x): it
     * accelerates without end and is no Gompertz growth curve (Ti would be
     * complex). The engine reaches it in that form; the growth curve must
     * refuse the asymptote.
     */
    const noGrowthCurve = new Set(["BodyWeight gompertz 7", "BodyWeight gompertz 11"]);

    it.each(survey)("$data, $model", ({ data, model, failed }) => {
      const missed: string[] = [];
      const silent: string[] = [];
      const must = found.find((each) => each.data === data && each.model === model);
      for (const [key, series] of seriesOf(data)) {
        const { value, notices } = fitCurve(series, { curve: translations[model]!.curve });
        const exists = !failed.includes(key) || must?.interior_optimum_found.includes(key) === true;
        if (exists && !value.converged && !noGrowthCurve.has(`${data} ${model} ${key}`)) {
          missed.push(key);
        }
        if (!value.converged && value.status !== "too-few-points") {
          if (!notices.some((each) => each.code === "growth-not-converged-asymptote")) {
            silent.push(key);
          }
        }
      }
      expect(missed).toEqual([]);
      expect(silent).toEqual([]);
    });

    it.each(["7", "11"])("reaches the optimum with b2 < 0 of rat %s in that form", (rat) => {
      const { ages, masses } = seriesOf("BodyWeight").get(rat)!;
      const fit = fitLeastSquares(
        {
          parameters: 3,
          linear: [0],
          evaluate: (p, values, gradient) => {
            ages.forEach((x, i) => {
              const power = p[2]! ** x;
              const e = Math.exp(-p[1]! * power);
              values[i] = p[0]! * e;
              gradient[3 * i] = e;
              gradient[3 * i + 1] = -p[0]! * e * power;
              gradient[3 * i + 2] = (-p[0]! * e * p[1]! * x * power) / p[2]!;
            });
            return true;
          },
        },
        { y: masses },
        { start: [250, -0.1, 1.01] },
      );
      expect(fit.converged).toBe(true);
      expect(fit.theta[1]!).toBeLessThan(0);
    });
  });
});
