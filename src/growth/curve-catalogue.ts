import { UsageError } from "../core/usage-error.js";
import { brody } from "./curves/brody.js";
import { brokenStick } from "./curves/broken-stick.js";
import { doubleLogistic } from "./curves/double-logistic.js";
import { exponential } from "./curves/exponential.js";
import { gompertz } from "./curves/gompertz.js";
import { gompertzStartMass } from "./curves/gompertz-start-mass.js";
import { linear } from "./curves/linear.js";
import { linearPlateau } from "./curves/linear-plateau.js";
import { logistic } from "./curves/logistic.js";
import { logisticFromFloor } from "./curves/logistic-from-floor.js";
import { michaelisMenten } from "./curves/michaelis-menten.js";
import { monomolecular } from "./curves/monomolecular.js";
import { richards } from "./curves/richards.js";
import { schnute } from "./curves/schnute.js";
import { vonBertalanffyLength } from "./curves/von-bertalanffy-length.js";
import { vonBertalanffyMass } from "./curves/von-bertalanffy-mass.js";
import { weibull } from "./curves/weibull.js";
import type { GrowthCurve } from "./growth-curve.js";

/** Every curve that comes with the library, by name; simple ones first. */
export const growthCurves = {
  linear,
  exponential,
  "linear-plateau": linearPlateau,
  "broken-stick": brokenStick,
  monomolecular,
  brody,
  "von-bertalanffy-length": vonBertalanffyLength,
  logistic,
  "logistic-from-floor": logisticFromFloor,
  gompertz,
  "gompertz-start-mass": gompertzStartMass,
  "von-bertalanffy-mass": vonBertalanffyMass,
  richards,
  weibull,
  "michaelis-menten": michaelisMenten,
  schnute,
  "double-logistic": doubleLogistic,
} as const satisfies Readonly<Record<string, GrowthCurve>>;

export type CurveName = keyof typeof growthCurves;

/**
 * Finds a curve by name; a curve of one's own passes through.
 *
 * @example curveByName("gompertz").parameters.length // 3
 */
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

/** The heading name of a curve; a curve of one's own goes by its name. */
export function curveTitle(name: string): string {
  return Object.hasOwn(growthCurves, name) ? growthCurves[name as CurveName].title : name;
}
