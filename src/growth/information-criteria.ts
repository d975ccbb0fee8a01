import { studentTQuantile } from "../stats/distributions/student-t.js";

export interface InformationCriteria {
  readonly logLikelihood: number | null;
  readonly aic: number | null;
  /** `null` with too few points for the correction. */
  readonly aicc: number | null;
  readonly bic: number | null;
}

export const noCriteria: InformationCriteria = {
  logLikelihood: null,
  aic: null,
  aicc: null,
  bic: null,
};

/** Criteria from a log-likelihood and the number of parameters counted. */
export function criteriaOf(logLikelihood: number, k: number, n: number): InformationCriteria {
  if (!Number.isFinite(logLikelihood)) return noCriteria;
  const aic = 2 * k - 2 * logLikelihood;
  return {
    logLikelihood,
    aic,
    aicc: n - k - 1 > 0 ? aic + (2 * k * (k + 1)) / (n - k - 1) : null,
    bic: k * Math.log(n) - 2 * logLikelihood,
  };
}

/** Log-likelihood of independent normal errors, known or with one scale to be estimated. */
export function independentLogLik(
  rss: number,
  n: number,
  known: boolean,
  rootWeights: ArrayLike<number> | undefined,
): number {
  if (!(rss > 0)) return Number.NaN;
  let logRoot = 0;
  if (rootWeights !== undefined) for (let i = 0; i < n; i++) logRoot += Math.log(rootWeights[i]!);
  return known
    ? logRoot - 0.5 * (n * Math.log(2 * Math.PI) + rss)
    : logRoot - 0.5 * n * (Math.log((2 * Math.PI * rss) / n) + 1);
}

const tCuts = new Map<number, number>();

/** The two-sided 95 % cut of Student's t; kept because thousands of fits share it. */
export function tCut(df: number, level = 0.95): number {
  if (level !== 0.95) return studentTQuantile((1 + level) / 2, df);
  let cut = tCuts.get(df);
  if (cut === undefined) {
    cut = studentTQuantile(0.975, df);
    tCuts.set(df, cut);
  }
  return cut;
}
