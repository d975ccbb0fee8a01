import type { GrowthCurve } from "./growth-curve.js";

/** The curve, with no value where a parameter lies outside its own limits. */
export function curveWithinLimits(
  curve: GrowthCurve,
  constants: readonly number[],
): (x: number, phi: Float64Array, out: Float64Array, at: number) => number {
  const limits = curve.parameters.flatMap(({ lower = -Infinity, upper = Infinity }, j) =>
    lower > -Infinity || upper < Infinity ? [{ j, lower, upper }] : [],
  );
  return (x, phi, out, at) => {
    for (const { j, lower, upper } of limits) {
      if (!(phi[j]! > lower && phi[j]! < upper)) return Number.NaN;
    }
    return curve.gradient(x, phi, out, at, constants);
  };
}
