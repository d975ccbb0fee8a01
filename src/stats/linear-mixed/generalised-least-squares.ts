import { UsageError } from "../../core/usage-error.js";
import type { LikelihoodMethod } from "./blocks.js";
import type { LinearMixedData } from "./data.js";
import { fitLinearMixed, type LinearMixedFit } from "./fit-linear-mixed.js";
import type { ResidualStructure } from "./residual.js";

/**
 * Linear regression by generalised least squares: residuals with a variance
 * function, strata of their own spread, known weights, or continuous-time
 * autocorrelation, estimated by ML or REML (default). It is the linear mixed
 * model without random effects and shares its engine.
 *
 * When the correlation runs to the edge of its range the fit says so
 * (`residual.phiAtBoundary`): at "one" the intercept and sigma have no finite
 * standard error and only differences in time are determined.
 *
 * Source: Pinheiro and Bates (2000), chapter 5.
 *
 * @throws UsageError when no structure is given (ordinary least squares is `fitLinearModel`).
 * @example fitGeneralisedLeastSquares({ response, fixed, residual: { serial: { time } } })
 */
export function fitGeneralisedLeastSquares(
  data: {
    readonly response: ArrayLike<number>;
    readonly fixed: LinearMixedData["fixed"];
    readonly residual: ResidualStructure;
    /** Series within which residuals correlate; one series when left out. */
    readonly group?: ArrayLike<string | number>;
  },
  options: { readonly method?: LikelihoodMethod } = {},
): LinearMixedFit {
  const { power, strata, serial, weights } = data.residual;
  if (
    power === undefined &&
    strata === undefined &&
    serial === undefined &&
    weights === undefined
  ) {
    throw new UsageError({
      needed: "a residual structure (power, strata, weights or serial)",
      came: "none came",
      where: "fitGeneralisedLeastSquares",
      todo: "Use ordinary least squares when residuals are independent with equal spread.",
    });
  }
  return fitLinearMixed(
    {
      response: data.response,
      fixed: data.fixed,
      levels: [],
      residual: data.residual,
      ...(data.group === undefined ? {} : { serialGroup: data.group }),
    },
    options,
  );
}
