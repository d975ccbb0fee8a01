import { describe, expect, it } from "vitest";
import { containmentDf } from "../../../src/stats/linear-mixed/containment.js";
import {
  estimateContrast,
  likelihoodRatioTest,
  prepareInference,
} from "../../../src/stats/linear-mixed/contrasts.js";
import { fitLinearMixed } from "../../../src/stats/linear-mixed/fit-linear-mixed.js";
import { mixedAdjustedMeans, testTerms } from "../../../src/stats/linear-mixed/terms.js";
import { meanRow } from "../../../src/stats/linear-model/mean-row.js";
import { readReference } from "../reference-folder.js";
import { referenceModel } from "./reference-models.js";

/**
 * Degrees of freedom and tests: lmerTest 3.1-3 (Satterthwaite), pbkrtest 0.5-2
 * (Kenward-Roger), nlme::anova and nlme's containment rule, emmeans 1.8.4-1.
 * Degrees of freedom 1e-3 relative, t and F 1e-4.
 */
type Column = Record<string, number>;
interface TestTable {
  readonly term: string[] | string;
  readonly NumDF: number[] | number;
  readonly DenDF: number[] | number;
  readonly "F value": number[] | number;
  readonly "Pr(>F)": number[] | number;
}
interface Block {
  readonly satterthwaite: Record<string, Column>;
  readonly kenward_roger: Record<string, Column>;
  readonly anova3_satterthwaite: TestTable;
  readonly anova3_kr: TestTable;
}
interface Means {
  readonly means: { emmean: number[]; SE: number[]; df: number[]; "lower.CL": number[] };
  readonly pairs: {
    contrast: string[];
    estimate: number[];
    SE: number[];
    df: number[];
    "p.value": number[];
  };
}
interface Reference {
  readonly satterthwaite_kenward_roger: Record<string, Block>;
  readonly anova: {
    readonly chick_lme_anova_seq: {
      term: string[];
      numDF: number[];
      denDF: number[];
      "F-value": number[];
    };
    readonly chick_LRT_diet_ML: { LR: number; df: number; p: number };
  };
  readonly emmeans_chick_lme_REML: { at: Record<string, Means> };
  readonly cases: { id: string; output: { df: Record<string, number> } }[];
}
const reference = readReference<Reference>("values/lmm.json");
const list = <T>(v: T | T[]): T[] => (Array.isArray(v) ? v : [v]);
const near = (a: number, b: number, tolerance: number) =>
  expect(Math.abs(a - b) / Math.max(1e-9, Math.abs(b))).toBeLessThan(tolerance);

const shapes: Record<string, string> = {
  chick: "lme-chick-time-diet-slope",
  sleep: "lme-sleep-slope",
  orthodont: "lme-orthodont-slope-sex",
};

describe("tests on linear mixed models", () => {
  for (const [name, shape] of Object.entries(shapes)) {
    const { data, design, variables } = referenceModel(shape);
    for (const kind of ["satterthwaite", "kenward-roger"] as const) {
      it(`${name}: coefficients and terms by ${kind}`, () => {
        const block = reference!.satterthwaite_kenward_roger[name]!;
        const table = kind === "satterthwaite" ? block.satterthwaite : block.kenward_roger;
        const inference = prepareInference(fitLinearMixed(data), kind);
        Object.keys(table["df"]!).forEach((column, k) => {
          const row = design.names.map((_, j) => (j === k ? 1 : 0));
          const c = estimateContrast(inference, row);
          near(c.df, table["df"]![column]!, 1e-3);
          near(c.se, table["Std. Error"]![column]!, 1e-5);
          near(c.t, table["t value"]![column]!, 1e-5);
          near(c.p, table["Pr(>|t|)"]![column]!, 1e-2);
        });
        const anova = kind === "satterthwaite" ? block.anova3_satterthwaite : block.anova3_kr;
        const tests = testTerms(inference, design, variables);
        list(anova.term).forEach((term, k) => {
          const own = tests.find((t) => t.term === term)!;
          expect(own.numeratorDf).toBe(list(anova.NumDF)[k]);
          near(own.denominatorDf, list(anova.DenDF)[k]!, 1e-3);
          near(own.f, list(anova["F value"])[k]!, 1e-4);
          near(own.p, list(anova["Pr(>F)"])[k]!, 1e-2);
        });
      });
    }
  }

  it("gives nlme's containment degrees of freedom in every case", () => {
    for (const c of reference!.cases) {
      const { data } = referenceModel(c.id.replace(/-(RE)?ML$/, ""));
      const fit = fitLinearMixed(data);
      expect([c.id, containmentDf(fit).byColumn]).toEqual([c.id, Object.values(c.output.df)]);
    }
  });

  it("gives nlme's sequential F tests", () => {
    const { data, design, variables } = referenceModel("lme-chick-time-diet-slope");
    const fit = fitLinearMixed(data);
    const tests = testTerms(prepareInference(fit, "containment"), design, variables, "sequential");
    const anova = reference!.anova.chick_lme_anova_seq;
    tests.forEach((t) => {
      const k = anova.term.indexOf(t.term);
      near(t.f, anova["F-value"][k]!, 1e-5);
      expect(t.numeratorDf).toBe(anova.numDF[k]);
      expect(t.denominatorDf).toBe(anova.denDF[k]);
    });
  });

  it("gives the likelihood-ratio test", () => {
    const large = fitLinearMixed(referenceModel("lme-chick-time-diet-slope").data, {
      method: "ML",
    });
    const { data, design } = referenceModel("lme-chick-time-diet-slope");
    const small = fitLinearMixed(
      { ...data, fixed: { names: design.names.slice(0, 2), columns: design.columns.slice(0, 2) } },
      { method: "ML" },
    );
    const test = likelihoodRatioTest(small, large);
    const their = reference!.anova.chick_LRT_diet_ML;
    near(test.statistic, their.LR, 1e-6);
    expect(test.df).toBe(their.df);
    near(test.p, their.p, 1e-5);
    expect(() => likelihoodRatioTest(fitLinearMixed(data), large)).toThrow(/by ML/);
  });

  it("gives adjusted means and their differences as emmeans does", () => {
    const { data, design, variables } = referenceModel("lme-chick-time-diet-slope");
    const inference = prepareInference(fitLinearMixed(data), "containment");
    for (const [key, their] of Object.entries(reference!.emmeans_chick_lme_REML.at)) {
      const at = { Time: Number(key.replace("Time", "")) };
      const means = mixedAdjustedMeans(inference, design, variables, "Diet", at);
      means.forEach((m, k) => {
        near(m.estimate, their.means.emmean[k]!, 1e-6);
        near(m.se, their.means.SE[k]!, 1e-5);
        expect(m.df).toBe(their.means.df[k]);
        near(m.lower, their.means["lower.CL"][k]!, 1e-5);
      });
      their.pairs.contrast.forEach((name, k) => {
        const [a, b] = name.split(" - ").map((s) => s.replace("Diet", ""));
        const one = meanRow(design, variables, "Diet", a!, at);
        const two = meanRow(design, variables, "Diet", b!, at);
        const c = estimateContrast(
          inference,
          one.map((v, j) => v - two[j]!),
        );
        near(c.estimate, their.pairs.estimate[k]!, 1e-6);
        near(c.se, their.pairs.SE[k]!, 1e-5);
        near(c.p, their.pairs["p.value"][k]!, 1e-4);
      });
    }
  });
});
