import { makeMatrix } from "../linear-algebra/matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";

/**
 * Nodes and weights of Gauss-Hermite quadrature: the integral of
 * exp(-x^2) g(x) over the line is about the sum of weight times g(node), exact
 * for polynomials up to degree 2n - 1. From the eigenvalues of the Jacobi
 * matrix (Golub and Welsch 1969).
 *
 * @example gaussHermite(2).nodes // -0.7071..., 0.7071...
 */
export function gaussHermite(n: number): { readonly nodes: number[]; readonly weights: number[] } {
  const jacobi = makeMatrix(n, n);
  for (let i = 1; i < n; i++) {
    jacobi.data[i * n + i - 1] = Math.sqrt(i / 2);
    jacobi.data[(i - 1) * n + i] = Math.sqrt(i / 2);
  }
  const { values, vectors } = symmetricEigen(jacobi);
  const order = Array.from(values, (_, k) => k).sort((a, b) => values[a]! - values[b]!);
  return {
    nodes: order.map((k) => (Math.abs(values[k]!) < 1e-14 ? 0 : values[k]!)),
    weights: order.map((k) => Math.sqrt(Math.PI) * vectors.data[k]! ** 2),
  };
}
