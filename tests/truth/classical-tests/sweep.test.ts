import { describe, expect, it } from "vitest";
import {
  type Adjustment,
  adjustPValues,
} from "../../../src/stats/hypothesis-tests/adjust-p-values.js";
import {
  kendallTau,
  pearsonCorrelation,
  spearmanCorrelation,
} from "../../../src/stats/hypothesis-tests/correlation.js";
import {
  binomialTest,
  rateRatioTest,
  twoProportionTest,
} from "../../../src/stats/hypothesis-tests/count-tests.js";
import { hedgesG } from "../../../src/stats/hypothesis-tests/effect-size.js";
import { fisherExactTest } from "../../../src/stats/hypothesis-tests/fisher-exact-test.js";
import { kolmogorovSmirnovTest } from "../../../src/stats/hypothesis-tests/kolmogorov-smirnov.js";
import { oneWayAnova } from "../../../src/stats/hypothesis-tests/one-way-anova.js";
import {
  gamesHowellComparisons,
  pairsOf,
  tukeyComparisons,
} from "../../../src/stats/hypothesis-tests/pairwise-comparisons.js";
import {
  kruskalWallisTest,
  rankSumTest,
  signedRankTest,
} from "../../../src/stats/hypothesis-tests/rank-tests.js";
import { shapiroWilkTest } from "../../../src/stats/hypothesis-tests/shapiro-wilk.js";
import { type TTest, tTest } from "../../../src/stats/hypothesis-tests/t-test.js";
import {
  bartlettTest,
  leveneTest,
  varianceRatioTest,
} from "../../../src/stats/hypothesis-tests/variance-tests.js";
import { welchAnova } from "../../../src/stats/hypothesis-tests/welch-anova.js";
import { adjustedMeans } from "../../../src/stats/linear-model/adjusted-means.js";
import {
  analyseCovariance,
  type Term,
} from "../../../src/stats/linear-model/analysis-of-covariance.js";
import {
  buildDesign,
  type DesignVariable,
  type DesignVariables,
} from "../../../src/stats/linear-model/design.js";
import { fitGeneralisedLinearModel } from "../../../src/stats/linear-model/generalised-linear-model.js";
import { linearModelInfluence } from "../../../src/stats/linear-model/linear-model-influence.js";
import { filterTable, readTable } from "../read-table.js";
import { readReference, readReferenceText } from "../reference-folder.js";

/**
 * Every case of the reference folder's classical tests, made with R 4.2.2 (stats,
 * car, emmeans, MASS). Tolerance 1e-9 relative, studentised range p 1e-6 absolute,
 * Shapiro-Wilk p 1e-4, generalised linear models 1e-8, as its README states.
 */
// biome-ignore lint/suspicious/noExplicitAny: outputs of many shapes, each read where it is checked.
type Output = any;
interface Case {
  readonly id: string;
  readonly output: Output;
}

const table = (name: string) => readTable(readReferenceText(`data/${name}.csv`));
const numbers = (c: string[]) => c.map(Number);
const split = (y: string[], g: string[]) => {
  const names = [...new Set(g)].sort();
  return { names, groups: names.map((n) => numbers(y.filter((_, i) => g[i] === n))) };
};
const close = (got: number | null | undefined, wanted: unknown, tolerance = 1e-9, absolute = 0) => {
  const w = Number(wanted);
  const g = got ?? Number.NaN;
  if (g === w) return;
  expect(Math.abs(g - w), `got ${g}, wanted ${w}`).toBeLessThanOrEqual(
    tolerance * Math.abs(w) + absolute,
  );
};
const closeAll = (
  got: readonly (number | null)[],
  wanted: unknown[],
  tolerance = 1e-9,
  absolute = 0,
) => {
  expect(got.length).toBe(wanted.length);
  got.forEach((g, i) => {
    close(g, wanted[i], tolerance, absolute);
  });
};

const groupSets: Record<string, () => { names: string[]; groups: number[][] }> = {
  PlantGrowth: () => split(table("PlantGrowth")["weight"]!, table("PlantGrowth")["group"]!),
  chickwts: () => split(table("chickwts")["weight"]!, table("chickwts")["feed"]!),
  InsectSprays: () => split(table("InsectSprays")["count"]!, table("InsectSprays")["spray"]!),
  chick20: () => {
    const t = chickAt("20");
    return split(t["weight"]!, t["Diet"]!);
  },
};
const chickAt = (time: string) => filterTable(table("ChickWeight"), (r) => r("Time") === time);
const checkT = (t: TTest, o: Output) => {
  close(t.t, o.statistic);
  close(t.df, o.parameter);
  close(t.p, o.p);
  close(t.interval.lower ?? Number.NEGATIVE_INFINITY, o.conf[0]);
  close(t.interval.upper ?? Number.POSITIVE_INFINITY, o.conf[1]);
};
const pick = (t: Record<string, string[]>, value: string, by: string, level: string) =>
  numbers(filterTable(t, (r) => r(by) === level)[value]!);

/** Checks of one set of groups, by the beginning of the case's name. */
const ofGroups: Record<string, (s: { names: string[]; groups: number[][] }, o: Output) => void> = {
  anova: ({ groups }, o) => {
    const t = oneWayAnova(groups);
    closeAll([t.df1, t.df2], o.Df);
    closeAll([t.between, t.within], o["Sum Sq"]);
    close(t.f, o["F value"][0]);
    close(t.p, o["Pr(>F)"][0]);
  },
  "welch-anova": ({ groups }, o) => {
    const t = welchAnova(groups);
    closeAll([t.f, t.df1, t.df2, t.p], [o.F, ...o.df, o.p]);
  },
  tukey: ({ groups, names }, o) => {
    const t = tukeyComparisons(groups);
    expect(t.map((c) => `${names[c.pair[1]]}-${names[c.pair[0]]}`)).toEqual(o.pair);
    closeAll(
      t.map((c) => c.difference),
      o.diff,
    );
    // The reference's quantile stops at about five digits, and so do its intervals.
    closeAll(
      t.map((c) => c.interval.lower),
      o.lwr,
      1e-4,
      1e-4,
    );
    closeAll(
      t.map((c) => c.interval.upper),
      o.upr,
      1e-4,
      1e-4,
    );
    closeAll(
      t.map((c) => c.p),
      o.p_adj,
      0,
      1e-6,
    );
  },
  kruskal: ({ groups }, o) => {
    const t = kruskalWallisTest(groups);
    closeAll([t.chiSquared, t.df, t.p], [o.statistic, o.parameter, o.p]);
  },
  bartlett: ({ groups }, o) => {
    const t = bartlettTest(groups);
    closeAll([t.chiSquared, t.df, t.p], [o.statistic, o.parameter, o.p]);
  },
  levene: ({ groups }, o) => {
    const t = leveneTest(groups);
    closeAll([t.f, t.df1, t.df2, t.p], [o.F, ...o.df, o.p]);
  },
  "pairwise-welch-adjust": ({ groups }, o) => {
    const raw = pairsOf(groups.length).map(([i, j]) => tTest(groups[i]!, groups[j]!).p);
    closeAll(raw, o.raw);
    const names: [Adjustment, string][] = [
      ["bonferroni", "bonferroni"],
      ["holm", "holm"],
      ["hochberg", "hochberg"],
      ["hommel", "hommel"],
      ["benjamini-hochberg", "BH"],
      ["benjamini-yekutieli", "BY"],
    ];
    for (const [ours, theirs] of names) closeAll(adjustPValues(raw, ours), o[theirs]);
  },
  hedges: ({ groups }, o) => {
    const h = hedgesG(groups[0]!, groups[1]!)!;
    closeAll(
      [h.d, h.correction, h.g, h.variance],
      [o.cohen_d, o.J_exact, o.g_exact, o.var_g_exact],
    );
    expect(h.interval.lower!).toBeLessThan(h.g);
    expect(h.interval.upper!).toBeGreaterThan(h.g);
  },
  "games-howell": ({ groups }, o) => {
    const t = gamesHowellComparisons(groups);
    closeAll(
      t.map((c) => c.difference),
      o.diff,
    );
    closeAll(
      t.map((c) => c.q),
      o.q,
    );
    closeAll(
      t.map((c) => c.df),
      o.df,
    );
    closeAll(
      t.map((c) => c.p),
      o.p,
      0,
      1e-6,
    );
  },
};

const sleep = (g: string) => pick(table("sleep"), "extra", "group", g);
const tooth = (g: string) => pick(table("ToothGrowth"), "len", "supp", g);
type Variable = DesignVariable & { readonly name: string };
const byName = (variables: readonly Variable[]): DesignVariables =>
  Object.fromEntries(variables.map((v) => [v.name, v]));
const number = (name: string, c: string[]): Variable => ({
  name,
  kind: "number",
  values: numbers(c),
});
const factor = (name: string, values: string[], levels?: string[]): Variable =>
  levels === undefined
    ? { name, kind: "factor", values }
    : { name, kind: "factor", values, levels };
const factorial = (a: string, b: string): Term[] => [[a], [b], [a, b]];

const chickW20 = () => {
  const end = chickAt("20");
  const start = chickAt("0");
  const order = end["Chick"]!.map((_, i) => i).sort(
    (i, j) => Number(end["Chick"]![i]) - Number(end["Chick"]![j]),
  );
  const w0 = order.map((i) => start["weight"]![start["Chick"]!.indexOf(end["Chick"]![i]!)]!);
  return {
    y: order.map((i) => Number(end["weight"]![i])),
    variables: [
      number("w0", w0),
      factor(
        "Diet",
        order.map((i) => end["Diet"]![i]!),
      ),
    ],
    terms: [["w0"], ["Diet"]] as Term[],
  };
};
const models: Record<string, () => { y: number[]; variables: Variable[]; terms: Term[] }> = {
  "ancova-anorexia": () => {
    const t = table("anorexia");
    const variables = [
      number("Prewt", t["Prewt"]!),
      factor("Treat", t["Treat"]!, ["CBT", "Cont", "FT"]),
    ];
    return { y: numbers(t["Postwt"]!), variables, terms: [["Prewt"], ["Treat"]] };
  },
  "ancova-anorexia-int": () => ({
    ...models["ancova-anorexia"]!(),
    terms: factorial("Prewt", "Treat"),
  }),
  "ancova-cats": () => {
    const t = table("cats");
    const variables = [number("Bwt", t["Bwt"]!), factor("Sex", t["Sex"]!)];
    return { y: numbers(t["Hwt"]!), variables, terms: factorial("Bwt", "Sex") };
  },
  "ancova-tooth": () => {
    const t = table("ToothGrowth");
    const variables = [number("dose", t["dose"]!), factor("supp", t["supp"]!)];
    return { y: numbers(t["len"]!), variables, terms: factorial("dose", "supp") };
  },
  "twoway-warpbreaks": () => {
    const t = table("warpbreaks");
    const variables = [
      factor("wool", t["wool"]!),
      factor("tension", t["tension"]!, ["L", "M", "H"]),
    ];
    return { y: numbers(t["breaks"]!), variables, terms: factorial("wool", "tension") };
  },
  "ancova-birthwt": () => {
    const t = table("birthwt");
    const variables = [
      number("lwt", t["lwt"]!),
      factor("race", t["race"]!),
      number("smoke", t["smoke"]!),
      number("ht", t["ht"]!),
    ];
    return { y: numbers(t["bwt"]!), variables, terms: [["lwt"], ["race"], ["smoke"], ["ht"]] };
  },
  "unbalanced-genotype": () => {
    const t = table("genotype");
    const variables = [factor("Litter", t["Litter"]!), factor("Mother", t["Mother"]!)];
    return { y: numbers(t["Wt"]!), variables, terms: factorial("Litter", "Mother") };
  },
  "ancova-chick-w20": chickW20,
};
const checkModel = (id: string, o: Output) => {
  const { y, variables, terms } = models[id]!();
  const first = analyseCovariance(y, byName(variables), terms, { type: 1 });
  const { model } = first;
  closeAll(model.coefficients, Object.values(o.coef));
  closeAll(model.standardErrors, Object.values(o.se));
  closeAll(model.tRatios, Object.values(o.t));
  closeAll(model.pValues, Object.values(o.p));
  closeAll(
    [model.residualSd, model.dfResidual, model.r2, model.adjustedR2, model.logLikelihood],
    [o.sigma, o.df, o.r2, o.adj_r2, o.logLik],
  );
  const tables = [
    [1, o.type1],
    [2, o.type2],
    [3, o.type3_sumcontr],
  ] as const;
  for (const [type, wanted] of tables) {
    const { tests } = analyseCovariance(y, byName(variables), terms, { type });
    const from = type === 3 ? 1 : 0;
    const to = from + tests.length;
    closeAll(
      tests.map((t) => t.df),
      wanted.Df.slice(from, to),
    );
    closeAll(
      tests.map((t) => t.squares),
      wanted["Sum Sq"].slice(from, to),
    );
    closeAll(
      tests.map((t) => t.f),
      wanted["F value"].slice(from, to),
    );
    closeAll(
      tests.map((t) => t.p),
      wanted["Pr(>F)"].slice(from, to),
    );
  }
  closeAll(Array.from(model.leverage), o.hat);
  const influence = linearModelInfluence(model);
  closeAll(influence.studentized, o.rstudent);
  closeAll(influence.cooksDistance, o.cooks, 1e-9, 1e-15);
};
const checkGlm = (
  y: number[],
  variables: Variable[],
  family: "binomial" | "poisson" | "gamma" | "negative-binomial",
  o: Output,
) => {
  const design = buildDesign(
    byName(variables),
    variables.map((v) => [v.name]),
  );
  const g = fitGeneralisedLinearModel(design.matrix, y, family);
  expect(g.converged).toBe(true);
  closeAll(g.coefficients, Object.values(o.coef), 1e-8);
  if (o.se) closeAll(g.standardErrors, Object.values(o.se), 1e-8);
  if (o.deviance) close(g.deviance, o.deviance, 1e-8);
  if (o.null) close(g.nullDeviance, o.null, 1e-8);
  if (o.AIC) close(-2 * g.logLikelihood + 2 * g.parameters, o.AIC, 1e-8);
  if (o.theta) close(g.shape, o.theta, 1e-8);
  if (o.logLik) close(g.logLikelihood, o.logLik, 1e-8);
};
const insects = () => {
  const t = table("InsectSprays");
  return { y: numbers(t["count"]!), variables: [factor("spray", t["spray"]!)] };
};
const u = [1.1, 2.3, 3.7, 4.2, 5.9, 6.1];
const v = [0.5, 2.2, 3.1, 7.4, 8.8, 9.3, 10.2];

const single: Record<string, (o: Output) => void> = {
  "welch-sleep": (o) => checkT(tTest(sleep("1"), sleep("2")), o),
  "student-sleep": (o) => checkT(tTest(sleep("1"), sleep("2"), { kind: "pooled" }), o),
  "paired-sleep": (o) => checkT(tTest(sleep("1"), sleep("2"), { kind: "paired" }), o),
  "welch-tooth": (o) => checkT(tTest(tooth("OJ"), tooth("VC")), o),
  "welch-tooth-less": (o) => checkT(tTest(tooth("OJ"), tooth("VC"), { alternative: "less" }), o),
  "var-tooth": (o) => {
    const t = varianceRatioTest(tooth("OJ"), tooth("VC"));
    closeAll([t.ratio, t.df1, t.df2, t.p], [o.statistic, ...o.parameter, o.p]);
    closeAll([t.interval.lower, t.interval.upper], o.conf);
  },
  "welch-chick21-d1-d3": (o) => {
    const t = chickAt("21");
    checkT(tTest(pick(t, "weight", "Diet", "3"), pick(t, "weight", "Diet", "1")), o);
  },
  "wilcox-exact-noties": (o) => {
    const t = rankSumTest(u, v);
    closeAll([t.statistic, t.p, t.shift], [o.statistic, o.p, o.estimate]);
    closeAll([t.interval!.lower, t.interval!.upper], o.conf);
  },
  "wilcox-ties-cc": (o) => {
    const t = rankSumTest(tooth("OJ"), tooth("VC"));
    closeAll([t.statistic, t.p], [o.statistic, o.p]);
  },
  "wilcox-ties-nocc": (o) =>
    close(rankSumTest(tooth("OJ"), tooth("VC"), { continuity: false }).p, o.p),
  "signrank-exact": (o) => {
    const t = signedRankTest(o.x, o.y);
    closeAll([t.statistic, t.p], [o.statistic, o.p]);
  },
  "ks-two": (o) => {
    const t = kolmogorovSmirnovTest(u, v);
    closeAll([t.distance, t.p], [o.statistic, o.p]);
  },
  "shapiro-plant": (o) => {
    const t = shapiroWilkTest(numbers(table("PlantGrowth")["weight"]!));
    close(t.w, o.statistic);
    close(t.p, o.p, 1e-4);
  },
  "shapiro-chick20": (o) => {
    const t = shapiroWilkTest(numbers(chickAt("20")["weight"]!));
    close(t.w, o.statistic);
    close(t.p, o.p, 1e-4);
  },
  "fisher-2x2": (o) => {
    const t = fisherExactTest(8, 1, 2, 9);
    close(t.p, o.p);
    // The reference searches these roots only to 1.2e-4, the large ones on the reciprocal.
    closeAll([t.oddsRatio, t.interval.lower], [o.estimate, o.conf[0]], 2e-4);
    close(1 / t.interval.upper!, 1 / o.conf[1], 0, 1.3e-4);
  },
  "chisq-2x2-yates": (o) => {
    const t = twoProportionTest([8, 1], [10, 10], { continuity: true });
    closeAll([t.chiSquared, t.p], [o.statistic, o.p]);
  },
  "binom-7-20": (o) => {
    const t = binomialTest(7, 20);
    closeAll([t.estimate, t.p, t.interval.lower, t.interval.upper], [o.estimate, o.p, ...o.conf]);
  },
  "prop-wilson-15-20-vs-8-22": (o) => {
    const t = twoProportionTest([15, 8], [20, 22]);
    closeAll(
      [t.chiSquared, t.p, t.interval.lower, t.interval.upper],
      [o.statistic, o.p, ...o.conf],
    );
  },
  "poisson-rate": (o) => {
    const t = rateRatioTest([11, 23], [800, 1010]);
    closeAll([t.estimate, t.p, t.interval.lower, t.interval.upper], [o.estimate, o.p, ...o.conf]);
  },
  "cor-pearson-cats": (o) => {
    const t = pearsonCorrelation(numbers(table("cats")["Bwt"]!), numbers(table("cats")["Hwt"]!));
    closeAll([t.r, t.t, t.df, t.p], [o.estimate, o.statistic, o.parameter, o.p]);
    closeAll([t.interval!.lower, t.interval!.upper], o.conf);
  },
  "cor-spearman-cats": (o) =>
    close(
      spearmanCorrelation(numbers(table("cats")["Bwt"]!), numbers(table("cats")["Hwt"]!)),
      o.rho,
    ),
  "cor-kendall-cats": (o) =>
    close(kendallTau(numbers(table("cats")["Bwt"]!), numbers(table("cats")["Hwt"]!)), o.tau),
  "ancova-chick-w20-adjusted-means": (o) => {
    const { y, variables, terms } = chickW20();
    const analysis = analyseCovariance(y, byName(variables), terms);
    const { means, contrasts } = adjustedMeans(analysis, "Diet");
    closeAll(
      means.map((m) => m.mean),
      o.means.emmean,
    );
    closeAll(
      means.map((m) => m.se),
      o.means.SE,
    );
    closeAll(
      means.map((m) => m.interval.lower),
      o.means["lower.CL"],
    );
    closeAll(
      means.map((m) => m.interval.upper),
      o.means["upper.CL"],
    );
    closeAll(
      contrasts.map((c) => c.difference),
      o.pairs_tukey.estimate,
    );
    closeAll(
      contrasts.map((c) => c.se),
      o.pairs_tukey.SE,
    );
    closeAll(
      contrasts.map((c) => c.p),
      o.pairs_tukey["p.value"],
      0,
      1e-6,
    );
    const holm = adjustedMeans(analysis, "Diet", { adjustment: "holm" });
    closeAll(
      holm.contrasts.map((c) => c.p),
      o.pairs_holm,
    );
  },
  "glm-logit-birthwt": (o) => {
    const t = table("birthwt");
    const variables = ["lwt", "smoke", "ht"].map((n) => number(n, t[n]!));
    checkGlm(numbers(t["low"]!), variables, "binomial", o);
  },
  "glm-poisson-insects": (o) => checkGlm(insects().y, insects().variables, "poisson", o),
  "glm-gamma-log-chick20": (o) => {
    const t = chickAt("20");
    checkGlm(numbers(t["weight"]!), [factor("Diet", t["Diet"]!)], "gamma", o);
  },
  "glm-nb-insects": (o) => checkGlm(insects().y, insects().variables, "negative-binomial", o),
};

describe("classical tests of the reference folder", () => {
  const cases = readReference<{ cases: Case[] }>("values/tests_ancova.json").cases;

  it("covers every case", () => {
    expect(cases.length).toBe(71);
  });

  it.each(cases.map((c) => [c.id, c] as const))("%s", (id, { output }) => {
    const alone = single[id];
    if (alone !== undefined) return alone(output);
    if (models[id]) return checkModel(id, output);
    const set = Object.keys(groupSets).find((name) => id.endsWith(`-${name}`));
    const check = set === undefined ? undefined : ofGroups[id.slice(0, -set.length - 1)];
    if (set === undefined || check === undefined) throw new Error(`no check for ${id}`);
    return check(groupSets[set]!(), output);
  });
});
