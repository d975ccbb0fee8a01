import type { CurveFit } from "../growth/fit-curve.js";
import { predictMass } from "../growth/predict-growth.js";

/** A fitted curve as points within the ages of its data, with its two bands. */
export interface CurveTrace {
  readonly curve: string;
  readonly points: readonly TracePoint[];
}

export interface TracePoint {
  readonly age: number;
  readonly mass: number;
  /** Where the curve itself is expected (confidence band); null without errors. */
  readonly curveLow: number | null;
  readonly curveHigh: number | null;
  /** Where a single new weighing is expected (prediction band); null without errors. */
  readonly weighingLow: number | null;
  readonly weighingHigh: number | null;
}

/**
 * Points of a fitted curve for drawing: `count` equally spaced ages from the
 * first to the last weighing of the fit, never beyond. Empty where the fit did
 * not converge.
 *
 * @example curveTrace(fit, { count: 3 }).points.map((p) => p.age) // [10, 35, 60]
 */
export function curveTrace(
  fit: CurveFit,
  options: { readonly count?: number; readonly level?: number } = {},
): CurveTrace {
  const { points, converged, curve } = fit.value;
  const first = points.ages[0];
  const last = points.ages.at(-1);
  const count = options.count ?? 80;
  if (!converged || first === undefined || last === undefined || last <= first) {
    return { curve, points: [] };
  }
  const traced: TracePoint[] = [];
  for (let i = 0; i < count; i++) {
    const age = i === count - 1 ? last : first + ((last - first) * i) / (count - 1);
    const at = predictMass(fit, age, { level: options.level });
    if (at.mean.value === null) continue;
    traced.push({
      age,
      mass: at.mean.value,
      curveLow: at.mean.interval?.lower ?? null,
      curveHigh: at.mean.interval?.upper ?? null,
      weighingLow: at.newValue.interval?.lower ?? null,
      weighingHigh: at.newValue.interval?.upper ?? null,
    });
  }
  return { curve, points: traced };
}
