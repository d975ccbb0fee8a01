import { UsageError } from "../core/usage-error.js";
import { exponential } from "./curves/exponential.js";
import { gompertz } from "./curves/gompertz.js";
import { logistic } from "./curves/logistic.js";
import type { GrowthCurve } from "./growth-curve.js";

/** Every curve that comes with the library, by name. */
export const growthCurves = {
  exponential,
  logistic,
  gompertz,
} as const satisfies Readonly<Record<string, GrowthCurve>>;

export type CurveName = keyof typeof growthCurves;

/** Finds a curve by name; a curve of one's own passes through. */
export function curveByName(curve: string | GrowthCurve): GrowthCurve {
  if (typeof curve !== "string") return curve;
  const found = (growthCurves as Readonly<Record<string, GrowthCurve>>)[curve];
  if (found !== undefined && Object.hasOwn(growthCurves, curve)) return found;
  throw new UsageError({
    needed: `the name of a growth curve (${Object.keys(growthCurves).join(", ")})`,
    came: `"${curve}" came`,
    where: "fitCurve, option curve",
    todo: "Choose one of the names, or define a curve of your own with defineCurve.",
  });
}
