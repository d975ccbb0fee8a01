import { studentTTwoSided } from "../distributions/student-t.js";
import { type DfMethod, estimateContrast, prepareInference } from "./contrasts.js";
import type { RandomEstimates } from "./fit.js";
import type { LinearMixedFit } from "./fit-linear-mixed.js";

/** One fixed effect; numbers are `null` for a column that repeats earlier ones. */
export interface FixedEffectRow {
  readonly effect: string;
  readonly estimate: number | null;
  readonly se: number | null;
  readonly df: number | null;
  readonly t: number | null;
  readonly p: number | null;
}

/** One random effect of one grouping level, or the residual. */
export interface VarianceComponentRow {
  readonly level: string;
  readonly effect: string;
  readonly groups: number | null;
  readonly variance: number;
  readonly sd: number;
  /** Correlations with the effects before it, in their order. */
  readonly correlation: readonly (number | null)[];
}

export interface MixedSummary {
  /** How the degrees of freedom were found. */
  readonly df: Exclude<DfMethod, "best">;
  readonly fixed: readonly FixedEffectRow[];
  readonly variances: readonly VarianceComponentRow[];
}

/**
 * The two tables of a fitted mixed model: fixed effects with standard error,
 * degrees of freedom, t and two-sided p, and variance components, the residual
 * last. Standard errors are Kenward and Roger's where `df` is "best" and they hold.
 *
 * @example
 * summariseMixed(fit).fixed[1]
 * // sleep-deprivation data: { effect: "day", estimate: 10.467, se: 1.546, df: 17, t: 6.771, p: 3.3e-6 }
 */
export function summariseMixed(fit: LinearMixedFit, df: DfMethod = "best"): MixedSummary {
  const inference = prepareInference(fit, df);
  const fixed = fit.fixed.names.map((effect, j): FixedEffectRow => {
    if (fit.fixed.estimates[j] === null || fit.fixed.estimates[j] === undefined) {
      return { effect, estimate: null, se: null, df: null, t: null, p: null };
    }
    const row = fit.fixed.names.map((_, k) => (k === j ? 1 : 0));
    const own = estimateContrast(inference, row);
    return {
      effect,
      estimate: own.estimate,
      se: own.se,
      df: own.df,
      t: own.t,
      p: own.p,
    };
  });
  return { df: inference.df, fixed, variances: varianceRows(fit.random, fit.sigma) };
}

/** The variance components of grouping levels and the residual, a row each. */
export function varianceRows(
  random: readonly RandomEstimates[],
  sigma: number,
): VarianceComponentRow[] {
  const rows = random.flatMap((r) =>
    r.names.map((effect, i) => ({
      level: r.level,
      effect,
      groups: r.groups.length,
      variance: r.covariance[i]![i]!,
      sd: r.sd[i]!,
      correlation: r.correlation[i]!.slice(0, i),
    })),
  );
  return [
    ...rows,
    {
      level: "residual",
      effect: "",
      groups: null,
      variance: sigma ** 2,
      sd: sigma,
      correlation: [],
    },
  ];
}

/** t and two-sided p of an estimate over its standard error. */
export function ratioTest(estimate: number, se: number, df: number): { t: number; p: number } {
  const t = estimate / se;
  return { t, p: studentTTwoSided(t, df) };
}
