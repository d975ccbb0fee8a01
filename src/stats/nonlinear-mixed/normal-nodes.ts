import { semidefiniteFactor } from "../linear-algebra/small-matrix.js";
import { gaussHermite } from "../numeric/gauss-hermite.js";

/** Nodes and weights of a quadrature rule. */
export interface NormalNodes {
  /** One point a node, counted from the mean. */
  readonly offsets: readonly Float64Array[];
  readonly weights: readonly number[];
}

/** Points in each direction of a product rule, by the number of directions. */
const pointsFor = [1, 41, 21, 11, 7, 5];

/**
 * Product Gauss-Hermite rule for a normal vector with mean zero and this
 * covariance (which may be singular): the mean of g is about the sum of weight
 * times g(offset). An empty covariance is one node without coordinates.
 *
 * @example normalNodes([[4]]) // 41 nodes; the weighted squares of their offsets sum to 4
 */
export function normalNodes(between: readonly (readonly number[])[]): NormalNodes {
  const k = between.length;
  if (k === 0) return { offsets: [new Float64Array(0)], weights: [1] };
  const l = semidefiniteFactor(Float64Array.from(between.flat()), k);
  const directions = Array.from({ length: k }, (_, j) => j).filter((j) => l[j * k + j]! > 0);
  const rule = gaussHermite(pointsFor[Math.min(directions.length, 5)]!);
  let offsets = [new Float64Array(k)];
  let weights = [1];
  for (const j of directions) {
    const next: Float64Array<ArrayBuffer>[] = [];
    const nextWeights: number[] = [];
    offsets.forEach((offset, o) => {
      rule.nodes.forEach((node, i) => {
        next.push(offset.map((value, a) => value + Math.SQRT2 * node * l[a * k + j]!));
        nextWeights.push((weights[o]! * rule.weights[i]!) / Math.sqrt(Math.PI));
      });
    });
    offsets = next;
    weights = nextWeights;
  }
  return { offsets, weights };
}
