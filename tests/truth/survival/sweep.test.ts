import { describe, expect, it } from "vitest";
import { makeMatrix } from "../../../src/stats/linear-algebra/matrix.js";
import {
  buildDesign,
  type DesignVariable,
  type DesignVariables,
} from "../../../src/stats/linear-model/design.js";
import { competingRisks } from "../../../src/stats/survival/competing-risks.js";
import { coxRegression } from "../../../src/stats/survival/cox-regression.js";
import type { Ties } from "../../../src/stats/survival/cox-risk-sets.js";
import {
  type KaplanMeier,
  kaplanMeier,
  restrictedMean,
  type SurvivalInterval,
  survivalQuantile,
} from "../../../src/stats/survival/kaplan-meier.js";
import { logRankTest } from "../../../src/stats/survival/log-rank-test.js";
import {
  parametricSurvival,
  type SurvivalLaw,
} from "../../../src/stats/survival/parametric-survival.js";
import { proportionalHazardsCheck } from "../../../src/stats/survival/proportional-hazards-check.js";
import { filterTable, readTable } from "../read-table.js";
import { readReference, readReferenceText } from "../reference-folder.js";

/**
 * Every survival case of the reference folder (R 4.2.2, survival 3.5-3): curves
 * 1e-10, chi-squared 1e-9, Cox 1e-7, parametric 1e-6.
 */
// biome-ignore lint/suspicious/noExplicitAny: outputs of many shapes, each read where it is checked.
type Output = any;

const table = (name: string) => readTable(readReferenceText(`data/${name}.csv`));
const close = (
  got: number | null | undefined,
  wanted: unknown,
  tolerance: number,
  absolute = 0,
) => {
  const g = got ?? Number.NaN;
  const w = wanted === null || wanted === "NaN" ? Number.NaN : Number(wanted);
  if (Number.isNaN(g) && Number.isNaN(w)) return;
  expect(Math.abs(g - w), `got ${g}, wanted ${w}`).toBeLessThanOrEqual(
    tolerance * Math.abs(w) + absolute,
  );
};
const closeAll = (
  got: readonly (number | null | undefined)[],
  wanted: unknown[],
  tolerance: number,
  absolute = 0,
) => {
  expect(got.length).toBe(wanted.length);
  got.forEach((g, i) => {
    close(g, wanted[i], tolerance, absolute);
  });
};

interface Set_ {
  time: number[];
  event: number[];
  columns: Record<string, string[]>;
}
const load = (name: string, keep?: (row: (n: string) => string) => boolean): Set_ => {
  const all = table(name);
  const columns = keep === undefined ? all : filterTable(all, keep);
  const [t, e] = name === "ovarian" ? ["futime", "fustat"] : ["time", "status"];
  const most = name === "lung" ? 2 : 1;
  return {
    time: columns[t]!.map(Number),
    event: columns[e]!.map((v) => (Number(v) === most ? 1 : 0)),
    columns,
  };
};
const groupColumn: Record<string, [string, string | null]> = {
  lung: ["lung", null],
  "lung-sex": ["lung", "sex"],
  "veteran-trt": ["veteran", "trt"],
  "ovarian-rx": ["ovarian", "rx"],
  aml: ["aml", "x"],
  "veteran-celltype": ["veteran", "celltype"],
};
const cellTypes = ["squamous", "smallcell", "adeno", "large"];

const checkCurve = (set: string, interval: SurvivalInterval, o: Output) => {
  const [name, by] = groupColumn[set]!;
  const data = load(name);
  const levels =
    by === null ? [null] : by === "celltype" ? cellTypes : [...new Set(data.columns[by]!)].sort();
  const curves = levels.map((level): KaplanMeier => {
    const rows = data.time.flatMap((_, i) =>
      level === null || data.columns[by!]![i] === level ? [i] : [],
    );
    return kaplanMeier(
      { time: rows.map((i) => data.time[i]!), event: rows.map((i) => data.event[i]!) },
      { interval },
    );
  });
  const steps = curves.flatMap((c) => c.steps);
  closeAll(
    steps.map((s) => s.time),
    o.time,
    0,
  );
  closeAll(
    steps.map((s) => s.atRisk),
    o.n_risk,
    0,
  );
  closeAll(
    steps.map((s) => s.events),
    o.n_event,
    0,
  );
  closeAll(
    steps.map((s) => s.censored),
    o.n_censor,
    0,
  );
  closeAll(
    steps.map((s) => s.survival),
    o.surv,
    1e-10,
    1e-15,
  );
  closeAll(
    steps.map((s) => s.se),
    o.std_err,
    1e-10,
  );
  closeAll(
    steps.map((s) => s.lower),
    o.lower,
    1e-10,
  );
  closeAll(
    steps.map((s) => s.upper),
    o.upper,
    1e-10,
  );
  closeAll(
    steps.map((s) => s.cumulativeHazard),
    o.cumhaz,
    1e-10,
  );
  closeAll(
    steps.map((s) => s.seCumulativeHazard),
    o.std_chaz,
    1e-10,
  );
  const quantiles = curves.map((c) => [0.25, 0.5, 0.75].map((p) => survivalQuantile(c, p)));
  const flat = (m: unknown): unknown[] => (m as unknown[]).flat(2);
  // One curve comes as a column, several as rows.
  closeAll(
    quantiles.flat().map((q) => q.time),
    flat(o.quantile),
    1e-12,
  );
  closeAll(
    quantiles.flat().map((q) => q.lower),
    flat(o.q_lower),
    1e-12,
  );
  closeAll(
    quantiles.flat().map((q) => q.upper),
    flat(o.q_upper),
    1e-12,
  );
  const until = Math.max(...data.time);
  curves.forEach((c, k) => {
    const { mean, se } = restrictedMean(c, until);
    const row = Array.isArray(o.rmean_common[0]) ? o.rmean_common[k] : o.rmean_common;
    const values = Array.isArray(row) ? row : Object.values(row);
    close(mean, values[4], 1e-10);
    close(se, values[5], 1e-10);
  });
};

const checkLogRank = (set: string, rho: number, o: Output) => {
  const stratified = set === "lung-sex-strata-inst";
  const [name, by] = groupColumn[stratified ? "lung-sex" : set]!;
  const data = load(name, stratified ? (r) => r("inst") !== "" : undefined);
  const t = logRankTest(data, data.columns[by!]!, {
    rho,
    ...(stratified ? { strata: data.columns["inst"]! } : {}),
  });
  const order =
    by === "celltype" ? cellTypes.map((c) => t.groups.indexOf(c)) : t.groups.map((_, i) => i);
  close(t.chiSquared, o.chisq, 1e-9);
  close(t.p, o.p, 1e-8);
  closeAll(
    order.map((i) => t.observed[i]),
    o.obs,
    1e-9,
  );
  closeAll(
    order.map((i) => t.expected[i]),
    o.exp,
    1e-9,
  );
  closeAll(
    order.flatMap((i) => order.map((j) => t.covariance[i]![j])),
    o.var.flat(),
    1e-9,
  );
};

type Variable = DesignVariable & { readonly name: string };
const byName = (variables: readonly Variable[]): DesignVariables =>
  Object.fromEntries(variables.map((v) => [v.name, v]));
const number = (s: Set_, name: string): Variable => ({
  name,
  kind: "number",
  values: s.columns[name]!.map(Number),
});
const factor = (s: Set_, name: string, levels?: string[]): Variable => ({
  name,
  kind: "factor",
  values: s.columns[name]!,
  ...(levels === undefined ? {} : { levels }),
});
const coxModels: Record<string, () => { data: Set_; variables: Variable[]; strata?: string[] }> = {
  "lung-age-sex-ph": () => {
    const data = load("lung", (r) => r("ph.ecog") !== "");
    return { data, variables: [number(data, "age"), factor(data, "sex"), number(data, "ph.ecog")] };
  },
  veteran: () => {
    const data = load("veteran");
    const names = ["karno", "age", "trt"].map((n) => number(data, n));
    return { data, variables: [...names, factor(data, "celltype", cellTypes)] };
  },
  ovarian: () => {
    const data = load("ovarian");
    return { data, variables: [number(data, "age"), number(data, "rx")] };
  },
  "lung-strata": () => {
    const data = load("lung", (r) => r("ph.karno") !== "");
    const strata = data.columns["sex"]!;
    return { data, variables: [number(data, "age"), number(data, "ph.karno")], strata };
  },
  aml: () => {
    const data = load("aml");
    return { data, variables: [factor(data, "x")] };
  },
};
const checkCox = (set: string, ties: Ties, o: Output) => {
  const { data, variables, strata } = coxModels[set]!();
  const design = buildDesign(
    byName(variables),
    variables.map((v) => [v.name]),
  );
  const p = design.matrix.cols - 1;
  const x = makeMatrix(design.matrix.rows, p);
  for (let i = 0; i < x.rows; i++) {
    for (let j = 0; j < p; j++) x.data[i * p + j] = design.matrix.data[i * (p + 1) + j + 1]!;
  }
  const more = strata === undefined ? {} : { strata };
  const fit = coxRegression(data, x, { ties, ...more });
  expect(fit.status).toBe("converged");
  expect([fit.n, fit.events]).toEqual([o.n, o.nevent]);
  closeAll(fit.coefficients, Object.values(o.coef), 1e-7);
  closeAll(fit.standardErrors, Object.values(o.se), 1e-7);
  closeAll(Array.from(fit.covariance!.data), o.vcov.flat(), 1e-7, 1e-14);
  closeAll([fit.logLikelihood.null, fit.logLikelihood.fitted], o.loglik, 1e-11);
  close(fit.score!.chiSquared, o.score, 1e-7);
  close(fit.wald!.chiSquared, o.wald, 1e-7);
  close(fit.likelihoodRatio.chiSquared, o.lr, 1e-7);
  if (o.concordance !== null) {
    close(fit.concordance.c, o.concordance.C, 1e-10);
    close(fit.concordance.se, o.concordance["se(C)"], 1e-7);
  }
  if (o.martingale_resid !== null) {
    closeAll(Array.from(fit.martingaleResiduals).slice(0, 20), o.martingale_resid, 1e-7, 1e-9);
  }
  if (o.basehaz_uncentered !== null) {
    const b = o.basehaz_uncentered;
    const of = (stratum: string, t: number) =>
      fit.baseline.filter((s) => s.stratum === stratum && s.time <= t).at(-1)?.hazard ?? 0;
    b.time.forEach((t: number, i: number) => {
      const stratum = strata === undefined ? "all" : String(b.strata[i]).replace(/^.*=/, "");
      close(of(stratum, t), b.hazard[i], 1e-7, 1e-15);
    });
  }
  if (o.zph?.chisq) {
    const terms = variables.map((v, t) => ({
      name: v.name,
      columns: design.terms[t]!.columns.map((j) => j - 1),
    }));
    const check = proportionalHazardsCheck(data, x, fit, { terms, ...more });
    closeAll(
      check.map((c) => c.df),
      o.zph.df,
      0,
    );
    closeAll(
      check.map((c) => c.chiSquared),
      o.zph.chisq,
      1e-6,
    );
    closeAll(
      check.map((c) => c.p),
      o.zph.p,
      1e-6,
    );
  }
};

const checkParametric = (name: string, o: Output) => {
  const data = load("lung");
  const variables = [number(data, "age"), factor(data, "sex")];
  const { matrix } = buildDesign(byName(variables), [["age"], ["sex"]]);
  const law = {
    weibull: "weibull",
    exponential: "exponential",
    lognormal: "log-normal",
    loglogistic: "log-logistic",
  }[name] as SurvivalLaw;
  const fit = parametricSurvival(data, matrix, law);
  expect(fit.status).toBe("converged");
  closeAll(fit.coefficients, Object.values(o.coef), 1e-6);
  close(fit.scale, o.scale, 1e-6);
  close(fit.logLikelihood, o.logLik, 1e-9);
  closeAll(Array.from(fit.covariance!.data), o.vcov.flat(), 1e-6);
};

const checkCompeting = (o: Output) => {
  const t = table("mgus2");
  const rows = t["futime"]!.map((_, i) => i);
  const kind = rows.map((i) =>
    t["pstat"]![i] === "1" ? "pcm" : t["death"]![i] === "1" ? "zdeath" : null,
  );
  const time = rows.map((i) => Number(t[t["pstat"]![i] === "1" ? "ptime" : "futime"]![i]));
  const { steps } = competingRisks(time, kind);
  o.times.forEach((at: number, k: number) => {
    const s = steps.filter((x) => x.time <= at).at(-1)!;
    closeAll([s.eventFree, ...s.cumulative], o.pstate[k], 1e-10);
    closeAll([s.seEventFree, ...s.se], o.se[k], 1e-9);
  });
};

describe("survival cases of the reference folder", () => {
  const cases = readReference<{ cases: { id: string; output: Output }[] }>(
    "values/survival.json",
  ).cases;

  it("covers every case", () => expect(cases.length).toBe(48));

  it.each(cases.map((c) => [c.id, c.output] as const))("%s", (id, o) => {
    const curve = /^km-(.*?)-(log-log|log|plain)$/.exec(id);
    const ranks = /^survdiff-(.*)-rho(\d)$/.exec(id);
    const cox = /^cox-(.*)-(efron|breslow|exact)$/.exec(id);
    const parametric = /^survreg-lung-(.*)$/.exec(id);
    if (curve) return checkCurve(curve[1]!, curve[2] as SurvivalInterval, o);
    if (ranks) return checkLogRank(ranks[1]!, Number(ranks[2]), o);
    if (cox) return checkCox(cox[1]!, cox[2] as Ties, o);
    if (parametric) return checkParametric(parametric[1]!, o);
    return checkCompeting(o);
  });
});
