import { choleskyFactor, solveLowerTriangular } from "../stats/linear-algebra/cholesky.js";
import { makeMatrix } from "../stats/linear-algebra/matrix.js";

/**
 * z of a second measurement given an animal's own first one:
 * (z2 - r z1) / sqrt(1 - r^2), r being the correlation of the two z-scores for
 * that pair of ages. Standard normal where the reference is right, so regression
 * to the mean is not mistaken for a fall. `null` unless -1 < r < 1.
 *
 * Source: Cole (1995) Ann Hum Biol 22:77; Cole (1998) Stat Med 17:2697.
 *
 * @example conditionalZ(-0.5, -1.4, 0.9) // -2.179449
 */
export function conditionalZ(z1: number, z2: number, r: number): number | null {
  if (!(r > -1 && r < 1) || !Number.isFinite(z1) || !Number.isFinite(z2)) return null;
  return (z2 - r * z1) / Math.sqrt(1 - r * r);
}

/**
 * z of a last measurement given all earlier ones: the standardised residual of
 * the regression of the last z on the earlier ones, from their correlation
 * matrix (rows in order of age, the last row being the new measurement). With
 * one earlier measurement it equals {@link conditionalZ}. `null` where the matrix
 * is not positive definite.
 *
 * Source: generalisation to several visits in van Buuren (2023) Ann Hum Biol 50:247-257.
 *
 * @example conditionalZGivenAll([-0.5, -1.4], [[1, 0.9], [0.9, 1]]) // -2.179449
 */
export function conditionalZGivenAll(
  zs: readonly number[],
  correlation: readonly (readonly number[])[],
): number | null {
  const n = zs.length;
  const r = makeMatrix(n, n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j <= i; j++) r.data[i * n + j] = correlation[i]?.[j] ?? Number.NaN;
  const l = choleskyFactor(r, 1e-12);
  if (l === null) return null;
  // Made independent of each other; the last one then is the conditional z.
  const last = solveLowerTriangular(l, zs)[n - 1];
  return last !== undefined && Number.isFinite(last) ? last : null;
}

/**
 * The z below which a second measurement lies on the lowest `share` of gains,
 * given the first: r z1 + z_share sqrt(1 - r^2). Joined over a fixed interval
 * these are the lines along which an animal grows at that centile of velocity.
 *
 * Source: Cole (1998) Stat Med 17:2697.
 *
 * @example lowGainLine(0, 0.9, -1.645) // -0.717
 */
export function lowGainLine(z1: number, r: number, zOfShare: number): number {
  return r * z1 + zOfShare * Math.sqrt(1 - r * r);
}
