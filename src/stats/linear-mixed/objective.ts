import { fillBlocks, type LevelShape, type LikelihoodMethod, type MixedBlocks } from "./blocks.js";
import {
  type CovarianceShape,
  countFactorParameters,
  factorFromParameters,
  gradientByParameters,
} from "./covariance.js";
import type { MixedProfile } from "./profile.js";
import type { ResidualWork } from "./residual.js";

/** -2 log-likelihood as a function of free variance parameters, for given rows. */
export interface MixedObjective {
  readonly thetaCount: number;
  /** The factors L of each level at the parameters last used. */
  readonly factors: readonly Float64Array[];
  /** Places the factors at the parameters without evaluating anything. */
  setFactors(parameters: Float64Array): void;
  /** Call when the rows have changed. */
  refresh(): void;
  deviance(
    parameters: Float64Array,
    method: LikelihoodMethod,
    gradient: Float64Array | null,
  ): number;
}

/**
 * Joins profile, covariance shapes and residual structure. The gradient is
 * analytic in the covariance parameters and by fourth-order differences in the
 * residual ones.
 */
export function mixedObjective(parts: {
  readonly blocks: MixedBlocks;
  readonly profile: MixedProfile;
  readonly levels: readonly (LevelShape & { readonly shape: CovarianceShape })[];
  readonly rows: Float64Array;
  readonly width: number;
  readonly starts: Int32Array;
  readonly residual: ResidualWork | null;
  /** Added to the deviance under REML (log det of a change of columns). */
  readonly remlConstant: number;
}): MixedObjective {
  const { blocks, profile, levels, rows, width, starts, residual, remlConstant } = parts;
  const factors = levels.map((l) => new Float64Array(l.q * l.q));
  const thetaCount = levels.reduce((s, l) => s + countFactorParameters(l.shape, l.q), 0);
  const white = residual === null ? rows : new Float64Array(rows.length);

  const setFactors = (parameters: Float64Array) => {
    let from = 0;
    for (let k = 0; k < levels.length; k++) {
      const { shape, q } = levels[k]!;
      factorFromParameters(shape, q, parameters, from, factors[k]!);
      from += countFactorParameters(shape, q);
    }
  };
  const plain = (parameters: Float64Array, method: LikelihoodMethod, gradient: boolean) => {
    let added = 0;
    if (residual !== null) {
      white.set(rows);
      added = residual.whiten(white, width, parameters, thetaCount);
      fillBlocks(blocks, white, starts);
    }
    return profile.evaluate(factors, method, gradient) + added;
  };
  return {
    thetaCount,
    factors,
    setFactors,
    refresh() {
      if (residual === null) fillBlocks(blocks, rows, starts);
    },
    deviance(parameters, method, gradient) {
      setFactors(parameters);
      if (gradient !== null && residual !== null) {
        const at = Float64Array.from(parameters);
        for (let k = thetaCount; k < parameters.length; k++) {
          // Fourth-order differences: each residual parameter costs four passes over the rows.
          const h = 3e-4 * Math.max(1, Math.abs(parameters[k]!));
          const valueAt = (shift: number) => {
            at[k] = parameters[k]! + shift * h;
            return plain(at, method, false);
          };
          const slope = (8 * (valueAt(1) - valueAt(-1)) - (valueAt(2) - valueAt(-2))) / (12 * h);
          at[k] = parameters[k]!;
          gradient[k] = slope;
        }
      }
      const value =
        plain(parameters, method, gradient !== null) + (method === "REML" ? remlConstant : 0);
      if (gradient !== null) {
        let from = 0;
        for (let k = 0; k < levels.length; k++) {
          const { shape, q } = levels[k]!;
          gradientByParameters(shape, q, profile.gradient[k]!, gradient, from);
          from += countFactorParameters(shape, q);
        }
      }
      return value;
    },
  };
}
