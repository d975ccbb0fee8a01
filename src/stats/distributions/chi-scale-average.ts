import { stirlingError } from "../special-functions/gamma-function.js";

/**
 * The average of g(s) over s = sqrt(chi-squared(df) / df), the scatter of an
 * estimated standard deviation about the true one. Non-central t and the
 * studentised range are such averages. Trapezoid rule in log s, where the density
 * dies off so fast at both ends that the rule converges exponentially.
 */
export function averageOverChiScale(df: number, g: (s: number) => number): number {
  if (df === Number.POSITIVE_INFINITY) return g(1);
  // density of u = log s: sqrt(df / pi) exp(-stirling error) exp(-(df/2)(e^2u - 1 - 2u))
  const half = df / 2;
  const front = Math.sqrt(df / Math.PI) * Math.exp(-stirlingError(half));
  const spread = 1 / Math.sqrt(2 * df);
  const step = Math.min(0.1, spread / 2.2);
  const drop = (u: number) => half * (Math.expm1(2 * u) - 2 * u);
  let s = g(1);
  for (const side of [1, -1]) {
    for (let i = 1; ; i++) {
      const u = side * i * step;
      const exponent = drop(u);
      if (exponent > 40) break;
      s += g(Math.exp(u)) * Math.exp(-exponent);
    }
  }
  return s * step * front;
}
