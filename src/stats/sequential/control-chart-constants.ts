import { normalCumulative } from "../distributions/normal.js";
import { gaussLegendre } from "../numeric/gauss-legendre.js";
import { logGamma } from "../special-functions/gamma-function.js";

export interface ControlChartConstants {
  /** Mean and standard deviation of the range of n standard normal values. */
  readonly d2: number;
  readonly d3: number;
  /** Mean of the standard deviation of n standard normal values. */
  readonly c4: number;
}

/**
 * The constants from which limits of charts of means, ranges and standard
 * deviations of n values are made. Definition: NIST/SEMATECH e-Handbook 6.3.2.
 *
 * @example controlChartConstants(5).d2 // 2.325928947281039
 */
export function controlChartConstants(n: number): ControlChartConstants {
  const c4 = Math.sqrt(2 / (n - 1)) * Math.exp(logGamma(n / 2) - logGamma((n - 1) / 2));
  // Trapezoid sums over the whole line converge exponentially here.
  const step = 0.1;
  const grid = Array.from({ length: 361 }, (_, i) => -18 + i * step);
  const above = (z: number) => normalCumulative(z, "upper");
  const d2 = grid.reduce((s, z) => s + 1 - normalCumulative(z) ** n - above(z) ** n, 0) * step;
  // E[W^2] = 2 x the integral of P(smallest below x, largest above x + r) over x and r > 0.
  let second = 0;
  for (let panel = 0; panel < 9; panel++) {
    const rule = gaussLegendre(16, 2 * panel, 2 * panel + 2);
    rule.nodes.forEach((r, k) => {
      for (const x of grid) {
        const [a, b] = [above(x), above(x + r)];
        const below = (1 - b) ** n;
        second += 2 * rule.weights[k]! * step * (1 - below - a ** n + (a - b) ** n);
      }
    });
  }
  return { d2, d3: Math.sqrt(Math.max(0, second - d2 * d2)), c4 };
}
