import { rowsTable } from "../report/section/rows-table.js";
import { type Section, section, text } from "../report/section/section.js";
import type { LinearMixedFit } from "../stats/linear-mixed/fit-linear-mixed.js";
import { summariseMixed } from "../stats/linear-mixed/summarise-mixed.js";
import type { NonlinearMixedFit } from "../stats/nonlinear-mixed/fit.js";
import { summariseNonlinearMixed } from "../stats/nonlinear-mixed/summarise-nonlinear-mixed.js";
import { formatNumber } from "../units/format-number.js";

const degrees = {
  "kenward-roger": "Degrees of freedom and standard errors after Kenward and Roger.",
  satterthwaite: "Degrees of freedom after Satterthwaite.",
  containment: "Degrees of freedom by containment.",
  normal: "No degrees of freedom: the normal distribution.",
};

/** Whether a thing is a fitted mixed model, linear or not. */
export function isMixedFit(x: object): x is LinearMixedFit | NonlinearMixedFit {
  return "fixed" in x && "random" in x && "sigma" in x && "engine" in x && "theta" in x;
}

/** A fitted mixed model for the notebook: fixed effects, variance components, how it was fitted. */
export function mixedSection(fit: LinearMixedFit | NonlinearMixedFit): Section {
  const linear = Array.isArray(fit.random);
  const { df, fixed, variances } = linear
    ? summariseMixed(fit as LinearMixedFit)
    : summariseNonlinearMixed(fit as NonlinearMixedFit);
  const number = (x: number) => formatNumber(x, 5);
  return section(linear ? "Linear mixed model" : "Nonlinear mixed model", [
    rowsTable(
      "fixed",
      "Fixed effects",
      fixed.map(({ effect, estimate, se, df, t, p }) => ({
        effect,
        estimate,
        standardError: se,
        df,
        t,
        p: pText(p),
      })),
    ),
    rowsTable(
      "variances",
      "Variance components",
      variances.map((v) => ({
        level: v.level,
        effect: v.effect,
        groups: v.groups,
        variance: v.variance,
        standardDeviation: v.sd,
        correlation: v.correlation.map((c) => (c === null ? "none" : number(c))).join(", "),
      })),
    ),
    text(
      `${fit.n} rows, ${fit.method}, log-likelihood ${number(fit.logLikelihood)}, AIC ${number(fit.aic)}, ${fit.status}. ${degrees[df]}`,
    ),
    ...(fit.notices.length > 0 ? [{ kind: "notices" as const, notices: fit.notices }] : []),
  ]);
}

/** A p that is too small for four decimals is no nought. */
const pText = (p: number | null) => (p !== null && p < 0.0001 ? "< 0.0001" : p);
