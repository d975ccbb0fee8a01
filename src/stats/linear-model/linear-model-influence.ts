import type { LinearModel } from "./fit-linear-model.js";

export interface Influence {
  /** Residual over its own standard error, sigma from all rows; `null` at leverage 1. */
  readonly standardized: readonly (number | null)[];
  /** The same with sigma estimated without the row. */
  readonly studentized: readonly (number | null)[];
  /** Cook's distance. */
  readonly cooksDistance: readonly (number | null)[];
}

/**
 * Residual and influence diagnostics of a linear model. Source: Cook and Weisberg (1982).
 *
 * @example linearModelInfluence(fitLinearModel(matrixFromRows([[1, 1], [1, 2], [1, 3], [1, 10]]), [1, 2, 4, 5])).cooksDistance[1] // 0.0152315
 */
export function linearModelInfluence(model: LinearModel): Influence {
  const { residuals, leverage, rank, dfResidual, rss, weights } = model;
  const standardized: (number | null)[] = [];
  const studentized: (number | null)[] = [];
  const cooksDistance: (number | null)[] = [];
  for (let i = 0; i < residuals.length; i++) {
    const w = weights === null ? 1 : weights[i]!;
    const h = leverage[i]!;
    const e = residuals[i]! * Math.sqrt(w);
    const variance = dfResidual > 0 ? rss / dfResidual : Number.NaN;
    const free = 1 - h;
    const without = dfResidual > 1 ? (rss - (e * e) / free) / (dfResidual - 1) : Number.NaN;
    const usable = w > 0 && free > 1e-12 && variance > 0;
    standardized.push(usable ? e / Math.sqrt(variance * free) : null);
    studentized.push(usable && without > 0 ? e / Math.sqrt(without * free) : null);
    cooksDistance.push(usable ? ((e * e) / variance) * (h / (free * free * rank)) : null);
  }
  return { standardized, studentized, cooksDistance };
}
