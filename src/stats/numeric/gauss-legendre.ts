export interface QuadratureRule {
  readonly nodes: Float64Array;
  readonly weights: Float64Array;
}

const known = new Map<number, QuadratureRule>();

/**
 * Gauss-Legendre nodes and weights on [low, high], exact for polynomials of degree
 * 2 n - 1. Newton's method on the Legendre recurrence.
 *
 * @example gaussLegendre(2, -1, 1).nodes // -0.5773502691896257, 0.5773502691896257
 */
export function gaussLegendre(n: number, low = -1, high = 1): QuadratureRule {
  const unit = known.get(n) ?? unitRule(n);
  known.set(n, unit);
  const half = (high - low) / 2;
  const middle = (high + low) / 2;
  return {
    nodes: unit.nodes.map((x) => middle + half * x),
    weights: unit.weights.map((w) => half * w),
  };
}

function unitRule(n: number): QuadratureRule {
  const nodes = new Float64Array(n);
  const weights = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let x = -Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 1;
    for (let round = 0; round < 100; round++) {
      let p0 = 1;
      let p1 = x;
      for (let k = 2; k <= n; k++) [p0, p1] = [p1, ((2 * k - 1) * x * p1 - (k - 1) * p0) / k];
      slope = (n * (x * p1 - p0)) / (x * x - 1);
      const step = p1 / slope;
      x -= step;
      if (Math.abs(step) < 1e-16) break;
    }
    nodes[i] = x;
    weights[i] = 2 / ((1 - x * x) * slope * slope);
  }
  return { nodes, weights };
}
