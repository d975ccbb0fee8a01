import { matrixFromRows } from "../../../src/stats/linear-algebra/matrix.js";
import { estimateContrast, prepareInference } from "../../../src/stats/linear-mixed/contrasts.js";
import { fitLinearMixed } from "../../../src/stats/linear-mixed/fit-linear-mixed.js";
import { fitNonlinearMixed } from "../../../src/stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import { maximiseMarginal } from "../../../src/stats/nonlinear-mixed/marginal.js";
import { coxRegression } from "../../../src/stats/survival/cox-regression.js";
import { logRankTest } from "../../../src/stats/survival/log-rank-test.js";
import { remissions } from "../leukaemia/remissions.js";
import { jawAges, jawDistances } from "../mixed-models/jaw-distances.js";
import { logisticMean } from "../mixed-models/nonlinear-models.js";
import { orangeAges, orangeTrees } from "../mixed-models/orange-trees.js";
import { type Comparison, comparisonsOf } from "./comparison.js";

/**
 * Mixed models and survival on published data, figures of R 4.2.2 with nlme 3.1-162,
 * lme4 1.1-31, lmerTest 3.1-3, survival 3.5-3. Where a program prints few digits no
 * more can agree.
 */
export function rModels(): Comparison[] {
  return [...nonlinearMixed(), ...linearMixed(), ...survival()];
}

function nonlinearMixed(): Comparison[] {
  const { all, add } = comparisonsOf("R 4.2.2, nlme and lme4");
  const trees = Object.entries(orangeTrees);
  const fit = fitNonlinearMixed(
    {
      x: trees.flatMap(() => orangeAges),
      response: trees.flatMap(([, c]) => c),
      group: trees.flatMap(([tree]) => orangeAges.map(() => tree)),
      mean: logisticMean,
      parameters: ["Asym", "xmid", "scal"],
      random: ["Asym"],
    },
    { starts: [[170, 700, 350]] },
  );
  const what = "nonlinear mixed model, orange trees (nlme, ML)";
  [191.0490008517688, 722.5559798125201, 344.1623819667038].forEach((v, k) => {
    add(what, ["asymptote", "age at half", "scale"][k]!, v, fit.fixed.estimates[k]);
  });
  add(what, "standard error of the asymptote", 16.154029409481154, fit.fixed.standardErrors[0]);
  add(what, "spread between trees", 31.48255783245061, fit.random.sd[0]);
  add(what, "residual", 7.846254486524764, fit.sigma);
  add(what, "log-likelihood", -131.58457910662156, fit.logLikelihood);
  const marginal = maximiseMarginal(fit, { nodes: 1 });
  const laplace = "the same by Laplace (nlmer, which stops 2e-5 short)";
  add(laplace, "log-likelihood", -131.5718852125199, marginal.logLikelihood);
  add(laplace, "asymptote", 192.0529663574893, marginal.fixed.estimates[0]);
  return all;
}

function linearMixed(): Comparison[] {
  const { all, add } = comparisonsOf("R 4.2.2, nlme and lme4");
  const subjects = Object.entries(jawDistances);
  const y = subjects.flatMap(([, d]) => d);
  const age = subjects.flatMap(() => jawAges);
  const girl = subjects.flatMap(([s]) => jawAges.map(() => (s.startsWith("F") ? 1 : 0)));
  const subject = subjects.flatMap(([s]) => jawAges.map(() => s));
  const one = y.map(() => 1);
  const fixed = {
    names: ["one", "age", "girl", "age:girl"],
    columns: [one, age, girl, age.map((v, i) => v * girl[i]!)],
  };
  const model = (names: string[], columns: number[][]) =>
    fitLinearMixed({
      response: y,
      fixed,
      levels: [{ name: "subject", group: subject, names, columns }],
    });
  const slopes = model(["one", "age"], [one, age]);
  const what = "linear mixed model, jaw distances (lmer, REML)";
  add(what, "log-likelihood", -216.2908307513041, slopes.logLikelihood);
  const contrast = estimateContrast(prepareInference(slopes, "kenward-roger"), [0, 0, 0, 1]);
  add(what, "age by sex", -0.3048295454545, contrast.estimate);
  add(what, "its standard error", 0.13473533793, contrast.se);
  add(what, "its p (Kenward-Roger)", 0.03261385, contrast.p);
  const intercepts = model(["one"], [one]);
  const lme = "linear mixed model, jaw distances (lme, REML)";
  add(lme, "residual", 1.3863819114417368, intercepts.sigma);
  add(lme, "spread between subjects", 1.8162142016236726, intercepts.random[0]!.sd[0]);
  add(lme, "log-likelihood", -216.87862460056817, intercepts.logLikelihood);
  return all;
}

function survival(): Comparison[] {
  const { all, add } = comparisonsOf("R 4.2.2, survival");
  const data = {
    time: remissions.map((r) => r.weeks),
    event: remissions.map((r) => r.relapsed),
  };
  const arm = remissions.map((r) => r.arm);
  const x = matrixFromRows(arm.map((a) => [a === "placebo" ? 1 : 0]));
  const what = "remissions under 6-MP (Freireich 1963)";
  add(what, "log-rank chi-squared", 16.792941, logRankTest(data, arm).chiSquared);
  add(what, "Peto-Peto chi-squared", 14.4571508, logRankTest(data, arm, { rho: 1 }).chiSquared);
  for (const [ties, b, se] of [
    ["efron", 1.5721251, 0.4123967],
    ["breslow", 1.5091914, 0.4095644],
  ] as const) {
    const fit = coxRegression(data, x, { ties });
    add(what, `Cox coefficient, ${ties}`, b, fit.coefficients[0]);
    add(what, `its standard error, ${ties}`, se, fit.standardErrors[0]);
  }
  return all;
}
