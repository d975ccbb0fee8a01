/**
 * Shapes a random-effects covariance may have, as a lower triangular factor L
 * with covariance s2 L L', and the map between L and free parameters.
 *
 * - `general`: every entry on and below the diagonal is free.
 * - `diagonal`: independent effects.
 * - `identity`: independent effects with one common variance; with indicator
 *   columns in one all-embracing group this is how a crossed factor enters.
 *
 * Entries are not forced positive: the likelihood is even in the sign of each
 * column of L, so the boundary (a variance of zero) is an inner point of the
 * search and needs no constraint.
 */
export type CovarianceShape = "general" | "diagonal" | "identity";

export function countFactorParameters(shape: CovarianceShape, q: number): number {
  return shape === "general" ? (q * (q + 1)) / 2 : shape === "diagonal" ? q : 1;
}

/** Writes the free parameters `theta[from..]` into the q x q factor. */
export function factorFromParameters(
  shape: CovarianceShape,
  q: number,
  theta: Float64Array,
  from: number,
  out: Float64Array,
): void {
  out.fill(0);
  let k = from;
  for (let i = 0; i < q; i++) {
    if (shape === "general") for (let j = 0; j <= i; j++) out[i * q + j] = theta[k++]!;
    else out[i * q + i] = shape === "diagonal" ? theta[k++]! : theta[from]!;
  }
}

/** Reads the free parameters out of a factor (for starts). */
export function parametersFromFactor(
  shape: CovarianceShape,
  q: number,
  factor: Float64Array,
  out: Float64Array,
  from: number,
): void {
  let k = from;
  let sum = 0;
  for (let i = 0; i < q; i++) {
    if (shape === "general") for (let j = 0; j <= i; j++) out[k++] = factor[i * q + j]!;
    else if (shape === "diagonal") out[k++] = factor[i * q + i]!;
    else sum += factor[i * q + i]! ** 2;
  }
  if (shape === "identity") out[from] = Math.sqrt(sum / q);
}

/** Collects d f / d L into d f / d theta. */
export function gradientByParameters(
  shape: CovarianceShape,
  q: number,
  byFactor: Float64Array,
  out: Float64Array,
  from: number,
): void {
  let k = from;
  let sum = 0;
  for (let i = 0; i < q; i++) {
    if (shape === "general") for (let j = 0; j <= i; j++) out[k++] = byFactor[i * q + j]!;
    else if (shape === "diagonal") out[k++] = byFactor[i * q + i]!;
    else sum += byFactor[i * q + i]!;
  }
  if (shape === "identity") out[from] = sum;
}

/** L L' as a q x q array. */
export function productWithTranspose(l: Float64Array, q: number): Float64Array {
  const out = new Float64Array(q * q);
  for (let i = 0; i < q; i++) {
    for (let j = 0; j < q; j++) {
      let s = 0;
      for (let k = 0; k < q; k++) s += l[i * q + k]! * l[j * q + k]!;
      out[i * q + j] = s;
    }
  }
  return out;
}
