import type { CancelSignal } from "../../core/long-work.js";
import { stopIfCancelled } from "../../core/long-work.js";
import { notice } from "../../core/notice.js";
import { makeMatrix } from "../linear-algebra/matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";
import { minimiseSmooth, type SmoothFunction } from "../numeric/minimise-smooth.js";
import { describeNonlinearFit, type NonlinearMixedFit } from "./fit.js";
import { marginalDeviance } from "./marginal-deviance.js";

export interface MarginalOptions {
  /** Quadrature points for each random effect; 1 is the Laplace approximation. */
  readonly nodes?: number;
  readonly signal?: CancelSignal;
}

/**
 * Improves a linearised fit to maximum likelihood proper: the random effects are
 * integrated out by adaptive Gauss-Hermite quadrature around each group's mode,
 * scaled by its curvature (first derivatives). With one node this is the Laplace
 * approximation. A variance that follows the fitted mean is held at the mean of
 * the fit given. Standard errors come from the curvature of the likelihood.
 *
 * Sources: Pinheiro and Bates (1995) J. Comput. Graph. Stat. 4, 12; Liu and
 * Pierce (1994) Biometrika 81, 624.
 *
 * @example
 * // the trees of fitNonlinearMixed by Laplace: 192.053, 727.912, 348.077; sd 31.646, sigma 7.843
 */
export function maximiseMarginal(
  fit: NonlinearMixedFit,
  options: MarginalOptions = {},
): NonlinearMixedFit {
  const nodes = options.nodes ?? 1;
  const { engine } = fit;
  const { p } = engine.model;
  const theta0 = Float64Array.from(fit.theta);
  const unit = fit.fixed.standardErrors.map((s) => (s > 0 && Number.isFinite(s) ? s : 1));
  const evaluate = marginalDeviance(engine, nodes);
  const size = p + theta0.length + 1;
  // Free numbers: fixed effects in standard errors from the start, variances, log sigma.
  const beta = new Float64Array(p);
  const theta = new Float64Array(theta0.length);
  const value = (x: Float64Array) => {
    for (let c = 0; c < p; c++) beta[c] = fit.fixed.estimates[c]! + x[c]! * unit[c]!;
    theta.set(x.subarray(p, size - 1));
    return evaluate(beta, theta, Math.exp(x[size - 1]!));
  };
  const withGradient: SmoothFunction = (x, gradient) => {
    stopIfCancelled(options.signal);
    const at = Float64Array.from(x);
    for (let k = 0; k < size; k++) {
      const h = 1e-3 * Math.max(0.1, Math.abs(x[k]!));
      at[k] = x[k]! + h;
      const up = value(at);
      at[k] = x[k]! - h;
      const down = value(at);
      at[k] = x[k]! + 2 * h;
      const up2 = value(at);
      at[k] = x[k]! - 2 * h;
      const down2 = value(at);
      at[k] = x[k]!;
      gradient[k] = (8 * (up - down) - (up2 - down2)) / (12 * h);
    }
    return value(x);
  };
  const start = new Float64Array(size);
  start.set(theta0, p);
  start[size - 1] = Math.log(fit.workingSigma);
  const best = minimiseSmooth(withGradient, start, { tolerance: 1e-9, maxIterations: 200 });
  value(best.x);
  engine.beta.set(beta);
  const x = best.x.slice(p, size - 1);
  const sigma = Math.exp(best.x[size - 1]!);
  const covariance = fixedCovariance(best.hessian, size, unit);
  const plain = describeNonlinearFit(engine, "ML", x, {
    x,
    status: best.slope < 1e-5 ? "converged" : "variances-not-settled",
    iterations: best.evaluations,
    change: 0,
    slope: best.slope,
  });
  const ratio = sigma / plain.workingSigma;
  const logLikelihood = -best.value / 2;
  return {
    ...plain,
    fixed: {
      ...plain.fixed,
      estimates: Array.from(beta),
      covariance,
      standardErrors: covariance.map((row, i) => Math.sqrt(row[i]!)),
    },
    random: {
      ...plain.random,
      covariance: plain.random.covariance.map((row) => row.map((v) => v * ratio * ratio)),
      sd: plain.random.sd.map((v) => v * ratio),
      effectStandardErrors: plain.random.effectStandardErrors.map((row) =>
        row.map((v) => v * ratio),
      ),
    },
    sigma: plain.sigma * ratio,
    workingSigma: sigma,
    logLikelihood,
    aic: 2 * plain.parameters - 2 * logLikelihood,
    bic: plain.parameters * Math.log(plain.n) - 2 * logLikelihood,
    notices: [
      ...plain.notices,
      notice("mixed-marginal-likelihood", "info", { nodes, groups: plain.groups }),
    ],
  };
}

/** The block of 2 H^-1 that belongs to the fixed effects, on their own scale. */
function fixedCovariance(hessian: Float64Array, size: number, unit: readonly number[]): number[][] {
  const { values, vectors } = symmetricEigen(makeMatrix(size, size, hessian));
  return unit.map((ui, i) =>
    unit.map((uj, j) => {
      let s = 0;
      for (let k = 0; k < size; k++) {
        if (values[k]! > 1e-10 * values[0]!)
          s += (vectors.data[i * size + k]! * vectors.data[j * size + k]!) / values[k]!;
      }
      return 2 * s * ui * uj;
    }),
  );
}
