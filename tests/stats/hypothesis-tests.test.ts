import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { adjustPValues } from "../../src/stats/hypothesis-tests/adjust-p-values.js";
import { hedgesG } from "../../src/stats/hypothesis-tests/effect-size.js";
import { fisherExactTest } from "../../src/stats/hypothesis-tests/fisher-exact-test.js";
import { oneWayAnova } from "../../src/stats/hypothesis-tests/one-way-anova.js";
import {
  gamesHowellComparisons,
  tukeyComparisons,
} from "../../src/stats/hypothesis-tests/pairwise-comparisons.js";
import { kruskalWallisTest, rankSumTest } from "../../src/stats/hypothesis-tests/rank-tests.js";
import { shapiroWilkTest } from "../../src/stats/hypothesis-tests/shapiro-wilk.js";
import { tTest } from "../../src/stats/hypothesis-tests/t-test.js";
import { bartlettTest, leveneTest } from "../../src/stats/hypothesis-tests/variance-tests.js";
import { welchAnova } from "../../src/stats/hypothesis-tests/welch-anova.js";
import { adjustedMeans } from "../../src/stats/linear-model/adjusted-means.js";
import { analyseCovariance } from "../../src/stats/linear-model/analysis-of-covariance.js";

/**
 * Plant yields of three groups: Dobson, An Introduction to Statistical Modelling
 * (1983), table 7.1; distributed with R as `PlantGrowth`. Results: R 4.2.2.
 */
const ctrl = [4.17, 5.58, 5.18, 6.11, 4.5, 4.61, 5.17, 4.53, 5.33, 5.14];
const trt1 = [4.81, 4.17, 4.41, 3.59, 5.87, 3.83, 6.03, 4.89, 4.32, 4.69];
const trt2 = [6.31, 5.12, 5.54, 5.5, 5.37, 5.29, 4.92, 6.15, 5.8, 5.26];
const plants = [ctrl, trt1, trt2];

/** Extra hours of sleep: Student (1908), distributed with R as `sleep`. */
const drug1 = [0.7, -1.6, -0.2, -1.2, -0.1, 3.4, 3.7, 0.8, 0, 2];
const drug2 = [1.9, 0.8, 1.1, 0.1, -0.1, 4.4, 5.5, 1.6, 4.6, 3.4];

describe("tests of means (published data, values of R 4.2.2)", () => {
  it("t tests: Welch, pooled, paired", () => {
    const welch = tTest(drug1, drug2);
    expect(welch.t).toBeCloseTo(-1.860813467486853, 12);
    expect(welch.df).toBeCloseTo(17.7764735161785, 10);
    expect(welch.p).toBeCloseTo(0.07939414018735817, 12);
    expect(welch.interval.lower).toBeCloseTo(-3.3654832307117104, 11);
    expect(tTest(drug1, drug2, { kind: "pooled" }).p).toBeCloseTo(0.07918671421593818, 12);
    expect(tTest(drug1, drug2, { kind: "paired" }).p).toBeCloseTo(0.00283289019738427, 13);
  });

  it("one-way analyses and comparisons of all pairs", () => {
    expect(oneWayAnova(plants).p).toBeCloseTo(0.015909958325622947, 12);
    expect(welchAnova(plants).p).toBeCloseTo(0.01739282149017, 11);
    expect(kruskalWallisTest(plants).p).toBeCloseTo(0.01842375573147197, 12);
    expect(bartlettTest(plants).p).toBeCloseTo(0.23709677363455817, 12);
    expect(leveneTest(plants).p).toBeCloseTo(0.3412266241254738, 12);
    const tukey = [0.3908711442021269, 0.19799599129970757, 0.012006423979452951];
    tukeyComparisons(plants).forEach((c, i) => {
      expect(c.p).toBeCloseTo(tukey[i]!, 6);
    });
    const howell = [0.4745549221939802, 0.1128891768542174, 0.0237034547392031];
    gamesHowellComparisons(plants).forEach((c, i) => {
      expect(c.p).toBeCloseTo(howell[i]!, 6);
    });
  });

  it("standardised difference with both intervals", () => {
    const h = hedgesG(ctrl, trt1)!;
    expect(h.g).toBeCloseTo(0.5101840640855163, 12);
    expect(h.variance).toBeCloseTo(0.20650719448117036, 12);
    // The exact interval turned round: at its ends the t ratio seen is at the 2.5 % points.
    expect(h.interval.lower!).toBeLessThan(0);
    expect(h.interval.upper!).toBeGreaterThan(1);
  });

  it("Shapiro-Wilk", () => {
    const { w, p } = shapiroWilkTest(plants.flat());
    expect(w).toBeCloseTo(0.9826830160985873, 9);
    expect(p).toBeCloseTo(0.8915073682273987, 5);
    expect(shapiroWilkTest([1, 1, 1]).p).toBeNull();
  });
});

describe("adjusted means", () => {
  it("equal the raw means when groups share the covariate, and move with its slope otherwise", () => {
    // Built by hand: y = 2 x + (group b: 3), no scatter but one point each way.
    const x = [1, 2, 3, 4, 3, 4, 5, 6];
    const g = ["a", "a", "a", "a", "b", "b", "b", "b"];
    const y = x.map((v, i) => 2 * v + (g[i] === "b" ? 3 : 0) + (i % 2 === 0 ? 0.1 : -0.1));
    const analysis = analyseCovariance(
      y,
      { x: { kind: "number", values: x }, g: { kind: "factor", values: g } },
      [["x"], ["g"]],
    );
    const slope = analysis.model.coefficients[1]!;
    const { means, contrasts } = adjustedMeans(analysis, "g");
    expect(contrasts[0]!.difference).toBeCloseTo(-analysis.model.coefficients[2]!, 10);
    expect(means[0]!.mean).toBeCloseTo(2 * 2.5 + slope * (3.5 - 2.5), 10);
    expect(() => adjustedMeans(analysis, "x")).toThrow(/Take one of g/);
  });
});

describe("laws", () => {
  const list = fc.array(fc.double({ min: -100, max: 100, noNaN: true }), {
    minLength: 3,
    maxLength: 12,
  });

  it("two groups: F is the square of the pooled t, Welch's F that of Welch's t", () => {
    fc.assert(
      fc.property(list, list, (a, b) => {
        const t = tTest(a, b, { kind: "pooled" });
        const f = oneWayAnova([a, b]).f;
        if (t.t === null || f === null || t.se < 1e-6) return;
        expect(Math.abs(f - t.t ** 2)).toBeLessThan(1e-6 * (1 + f));
        const w = tTest(a, b);
        const wf = welchAnova([a, b]);
        if (wf.f !== null && w.t !== null) {
          expect(Math.abs(wf.f - w.t ** 2)).toBeLessThan(1e-6 * (1 + wf.f));
        }
      }),
      { seed: 20260110 },
    );
  });

  const whole = fc.array(fc.integer({ min: -50, max: 50 }), { minLength: 3, maxLength: 12 });
  it("rank tests see only order", () => {
    fc.assert(
      fc.property(whole, whole, (a, b) => {
        const p = rankSumTest(a, b).p;
        expect(
          rankSumTest(
            a.map((v) => v ** 3),
            b.map((v) => v ** 3),
          ).statistic,
        ).toBe(rankSumTest(a, b).statistic);
        expect(p === null || (p >= 0 && p <= 1)).toBe(true);
      }),
      { seed: 20260111 },
    );
  });

  it("adjusted p-values never fall below the raw ones and Holm lies within Bonferroni", () => {
    const ps = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 8 });
    fc.assert(
      fc.property(ps, (p) => {
        const holm = adjustPValues(p, "holm");
        const bonferroni = adjustPValues(p, "bonferroni");
        const hommel = adjustPValues(p, "hommel");
        const hochberg = adjustPValues(p, "hochberg");
        p.forEach((v, i) => {
          expect(holm[i]!).toBeGreaterThanOrEqual(v);
          expect(holm[i]!).toBeLessThanOrEqual(bonferroni[i]!);
          expect(hochberg[i]!).toBeLessThanOrEqual(holm[i]! + 1e-15);
          expect(hommel[i]!).toBeLessThanOrEqual(hochberg[i]! + 1e-15);
        });
      }),
      { seed: 20260112 },
    );
    expect(adjustPValues([0.01, null, 0.04], "holm")).toEqual([0.02, null, 0.04]);
  });

  it("Fisher's exact limits leave 2.5 % beyond the table seen", () => {
    const { interval } = fisherExactTest(8, 1, 2, 9);
    const weight = (k: number, odds: number) => {
      const choose = (n: number, r: number): number =>
        r === 0 ? 1 : (choose(n, r - 1) * (n - r + 1)) / r;
      return choose(10, k) * choose(10, 9 - k) * odds ** k;
    };
    const share = (odds: number, keep: (k: number) => boolean) => {
      const ks = Array.from({ length: 10 }, (_, k) => k);
      const total = ks.reduce((s, k) => s + weight(k, odds), 0);
      return ks.filter(keep).reduce((s, k) => s + weight(k, odds), 0) / total;
    };
    expect(share(interval.upper!, (k) => k <= 8)).toBeCloseTo(0.025, 10);
    expect(share(interval.lower!, (k) => k >= 8)).toBeCloseTo(0.025, 10);
  });
});
