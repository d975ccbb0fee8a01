import { type Measured, measured, notDefined } from "../core/measured.js";
import { notice } from "../core/notice.js";
import { requireResult } from "../core/require-result.js";
import { curveByName, curveTitle } from "./curve-catalogue.js";
import type { CurveFit } from "./curve-fit-value.js";
import type { GrowthCurve } from "./growth-curve.js";
import { tCut } from "./information-criteria.js";
import { deltaVariance, numericGradient, standardErrors } from "./predict-growth.js";

export interface DerivedOptions {
  /** Coverage aimed at. Default 0.95. */
  readonly level?: number | undefined;
  /** The curve itself, where it is one of your own and not of the catalogue. */
  readonly curve?: GrowthCurve | undefined;
}

/**
 * Any number computed from the parameters, with its standard error and interval
 * by the delta method. `f` gives `null` where it is not defined. `needsAsymptote`
 * refuses it, with the reason, where the final mass is not identified.
 *
 * @example
 * const ages = [5, 12, 19, 26, 33, 40], masses = [2400, 3010, 3720, 4480, 5270, 6060];
 * const fit = fitCurve({ ages, masses }, { curve: "gompertz" });
 * derivedQuantity(fit, "g", (curve, p) => p[0] / 2, { name: "half the final mass" }).value // 8759.32
 */
export function derivedQuantity(
  fit: CurveFit,
  unit: string,
  f: (curve: GrowthCurve, p: ArrayLike<number>) => number | null,
  options: DerivedOptions & { readonly needsAsymptote?: boolean; readonly name: string },
): Measured {
  requireResult("derivedQuantity", "fit-curve", fit);
  const { value } = fit;
  const about = { curve: curveTitle(value.curve), quantity: options.name };
  if (value.theta === null)
    return notDefined(unit, notice("growth-derived-no-fit", "problem", about));
  if (options.needsAsymptote === true && value.asymptoteIdentified === false) {
    return notDefined(unit, notice("growth-derived-needs-asymptote", "problem", about));
  }
  const curve = options.curve ?? curveByName(value.curve);
  const p = Float64Array.from(value.theta);
  const at = (q: ArrayLike<number>) => f(curve, q) ?? Number.NaN;
  const result = at(p);
  if (!Number.isFinite(result)) {
    return notDefined(unit, notice("growth-derived-none", "info", about));
  }
  const n = value.points.ages.length;
  if (value.covariance === null) return measured(result, unit, { n });
  const gradient = new Float64Array(p.length);
  numericGradient(at, p, standardErrors(fit), gradient);
  const se = Math.sqrt(deltaVariance(value.covariance, gradient));
  if (!Number.isFinite(se)) return measured(result, unit, { n });
  const level = options.level ?? 0.95;
  const known = value.errors === "known-errors";
  const cut = tCut(known ? Number.POSITIVE_INFINITY : value.residualDf, level);
  const interval = { lower: result - cut * se, upper: result + cut * se, level };
  return measured(result, unit, { se, interval, n });
}
