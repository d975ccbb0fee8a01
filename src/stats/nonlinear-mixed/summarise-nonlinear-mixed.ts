import { type MixedSummary, ratioTest, varianceRows } from "../linear-mixed/summarise-mixed.js";
import type { NonlinearMixedFit } from "./fit.js";

/**
 * The two tables of a fitted nonlinear mixed model: fixed effects with standard
 * error, degrees of freedom (rows less groups less coefficients plus one), t and
 * two-sided p, on the log scale for parameters kept positive, and variance components.
 *
 * Source of the degrees of freedom: Pinheiro and Bates (2000), section 2.4.2, each
 * coefficient taken as varying within groups, as the linearised columns do.
 *
 * @example summariseNonlinearMixed(fit).fixed[0].df // orange trees, 35 rows, 5 trees, 3 coefficients: 28
 */
export function summariseNonlinearMixed(fit: NonlinearMixedFit): MixedSummary {
  const df = fit.n - fit.groups - fit.fixed.names.length + 1;
  return {
    df: "containment",
    fixed: fit.fixed.names.map((effect, j) => {
      const estimate = fit.fixed.estimates[j]!;
      const se = fit.fixed.standardErrors[j]!;
      return { effect, estimate, se, df, ...ratioTest(estimate, se, df) };
    }),
    variances: varianceRows([fit.random], fit.sigma),
  };
}
