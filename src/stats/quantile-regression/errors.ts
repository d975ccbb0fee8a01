import { normalDensity, normalQuantile } from "../distributions/normal.js";
import { choleskyFactor, invertFromCholesky } from "../linear-algebra/cholesky.js";
import {
  crossProduct,
  type Matrix,
  makeMatrix,
  multiplyMatrices,
} from "../linear-algebra/matrix.js";
import { quantileRegression } from "./quantile-regression.js";

export interface QuantileErrors {
  readonly standardErrors: readonly (number | null)[];
  readonly covariance: Matrix | null;
  /** Share of the distribution on each side of tau from which the density is read. */
  readonly bandwidth: number;
  /** Rows at which fitted quantiles crossed and the density was taken as 0. */
  readonly crossed: number;
}

/**
 * Standard errors of quantile-regression coefficients when the spread may change
 * with x: the density at the quantile is read, row by row, from fits a bandwidth
 * above and below tau (sandwich form). `null` when that cannot be done (too few
 * rows in the tail). Sources: Hendricks and Koenker (1992); bandwidth Hall and
 * Sheather (1988).
 *
 * @example quantileRegressionErrors(matrixFromRows(Array.from({ length: 20 }, () => [1])), Array.from({ length: 20 }, (_, i) => i), 0.5).standardErrors[0] // 2.34274
 */
export function quantileRegressionErrors(
  x: Matrix,
  y: ArrayLike<number>,
  tau: number,
): QuantileErrors {
  const { rows: n, cols: p } = x;
  let bandwidth = hallSheatherBandwidth(tau, n);
  while (tau - bandwidth < 0 || tau + bandwidth > 1) bandwidth /= 2;
  const low = quantileRegression(x, y, tau - bandwidth).coefficients;
  const high = quantileRegression(x, y, tau + bandwidth).coefficients;
  const weighted = makeMatrix(n, p);
  let crossed = 0;
  for (let i = 0; i < n; i++) {
    let gap = 0;
    for (let j = 0; j < p; j++) gap += x.data[i * p + j]! * (high[j]! - low[j]!);
    if (!(gap > 0)) crossed++;
    const density = Math.max(0, (2 * bandwidth) / (gap - Number.EPSILON ** (2 / 3)));
    const root = Math.sqrt(density);
    for (let j = 0; j < p; j++) weighted.data[i * p + j] = root * x.data[i * p + j]!;
  }
  const l = choleskyFactor(crossProduct(weighted), 1e-14);
  const none = { standardErrors: Array.from({ length: p }, () => null), covariance: null };
  if (l === null) return { ...none, bandwidth, crossed };
  const inverse = invertFromCholesky(l);
  const middle = crossProduct(x);
  const covariance = multiplyMatrices(multiplyMatrices(inverse, middle), inverse);
  for (let k = 0; k < p * p; k++) covariance.data[k]! *= tau * (1 - tau);
  const standardErrors = Array.from({ length: p }, (_, j) =>
    Math.sqrt(covariance.data[j * p + j]!),
  );
  return { standardErrors, covariance, bandwidth, crossed };
}

/** Hall and Sheather's bandwidth for a 95 % interval. */
export function hallSheatherBandwidth(tau: number, n: number): number {
  const z = normalQuantile(tau);
  const f = normalDensity(z);
  return (
    n ** (-1 / 3) * normalQuantile(0.975) ** (2 / 3) * ((1.5 * f * f) / (2 * z * z + 1)) ** (1 / 3)
  );
}
