import type { CovarianceShape } from "./covariance.js";

/** Removes from `y` its component along the unit vector `q`; returns the coefficient. */
export function removeComponent(y: Float64Array, q: Float64Array): number {
  let s = 0;
  for (let i = 0; i < y.length; i++) s += y[i]! * q[i]!;
  for (let i = 0; i < y.length; i++) y[i]! -= s * q[i]!;
  return s;
}

/**
 * Gram-Schmidt with a second pass, in place. Columns that lie in the span of
 * earlier ones (less than 1e-10 of their length is left) are named, not used.
 */
export function orthogonalise(x: Float64Array[]): {
  kept: number[];
  aliased: number[];
  r: Float64Array;
} {
  const kept: number[] = [];
  const aliased: number[] = [];
  const coefficients: number[][] = [];
  x.forEach((column, c) => {
    const length = lengthOf(column);
    const own: number[] = kept.map(() => 0);
    for (let pass = 0; pass < 2; pass++) {
      kept.forEach((k, j) => {
        own[j]! += removeComponent(column, x[k]!);
      });
    }
    const left = lengthOf(column);
    if (!(left > 1e-10 * length)) {
      aliased.push(c);
      return;
    }
    for (let i = 0; i < column.length; i++) column[i]! /= left;
    kept.push(c);
    coefficients.push([...own, left]);
  });
  const p = kept.length;
  const r = new Float64Array(p * p);
  coefficients.forEach((own, j) => {
    own.forEach((v, k) => {
      r[k * p + j] = v;
    });
  });
  return { kept, aliased, r };
}

/** Makes random-effect columns well scaled in place; returns T with Z_working = Z T. */
export function standardise(z: Float64Array[], shape: CovarianceShape): Float64Array {
  const q = z.length;
  const n = z[0]?.length ?? 0;
  const t = new Float64Array(q * q);
  const size = (v: Float64Array) => lengthOf(v) / Math.sqrt(Math.max(1, n));
  if (shape !== "general") {
    const common = Math.sqrt(z.reduce((s, v) => s + size(v) ** 2, 0) / Math.max(1, q)) || 1;
    z.forEach((v, j) => {
      const s = shape === "identity" ? common : size(v) || 1;
      t[j * q + j] = 1 / s;
      for (let i = 0; i < n; i++) v[i]! /= s;
    });
    return t;
  }
  for (let j = 0; j < q; j++) {
    const before = size(z[j]!);
    t[j * q + j] = 1;
    for (let pass = 0; pass < 2; pass++) {
      for (let k = 0; k < j; k++) {
        let s = 0;
        for (let i = 0; i < n; i++) s += z[j]![i]! * z[k]![i]!;
        s /= n;
        for (let i = 0; i < n; i++) z[j]![i]! -= s * z[k]![i]!;
        for (let r = 0; r < q; r++) t[r * q + j]! -= s * t[r * q + k]!;
      }
    }
    const after = size(z[j]!);
    const scale = after > 1e-10 * before ? after : 1;
    for (let i = 0; i < n; i++) z[j]![i]! /= scale;
    for (let r = 0; r < q; r++) t[r * q + j]! /= scale;
  }
  return t;
}

function lengthOf(v: Float64Array): number {
  let s = 0;
  for (let i = 0; i < v.length; i++) s += v[i]! * v[i]!;
  return Math.sqrt(s);
}
