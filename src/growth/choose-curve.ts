import type { Result } from "../core/result.js";
import { compareFits, type FitComparison } from "./compare-fits.js";
import { type CurveName, growthCurves } from "./curve-catalogue.js";
import { type CurveData, type CurveFit, type FitCurveOptions, fitCurve } from "./fit-curve.js";
import type { GrowthCurve } from "./growth-curve.js";

export interface ChooseCurveOptions
  extends Omit<FitCurveOptions, "curve" | "fixed" | "bounds" | "start"> {
  /** Which curves compete. Default: all of the catalogue but the length curve. */
  readonly curves?: readonly (CurveName | GrowthCurve)[] | undefined;
}

export interface ChosenCurve extends FitComparison {
  /** Every fit, failures too, in the order asked for. */
  readonly fits: readonly CurveFit[];
}

/**
 * Fits several curves to one animal's weighings and chooses by AICc and residual
 * pattern; failures are listed, and the choice is explained in two sentences.
 * A small lead is no proof: look at the residuals before you lean on it.
 *
 * @example
 * chooseCurve({ ages, masses }, { curves: ["logistic", "gompertz", "richards"] }).value.chosen
 */
export function chooseCurve(
  data: CurveData,
  options: ChooseCurveOptions = {},
): Result<"choose-curve", ChosenCurve> {
  const { curves = defaultCurves, ...rest } = options;
  const fits = curves.map((curve) => fitCurve(data, { ...rest, curve }));
  const comparison = compareFits(fits);
  const chosen = fits.find((each) => each.value.curve === comparison.chosen);
  return {
    kind: "choose-curve",
    schema: 1,
    value: { ...comparison, fits },
    method: {
      name: "Choice of a growth curve by AICc and residual pattern",
      options: {
        curves: fits.map((each) => each.value.curve),
        nearAicc: 2,
        patternAicc: 10,
        runsLevel: 0.01,
      },
      citations: [
        "Burnham KP, Anderson DR (2002) Model Selection and Multimodel Inference, 2nd ed. Springer",
        "Wald A, Wolfowitz J (1940) Ann Math Stat 11:147-162",
      ],
    },
    basis: fits[0]?.basis ?? { used: 0, leftOut: [], of: "weighings" },
    diagnostics: {},
    notices: [...comparison.explanation, ...(chosen?.notices ?? [])],
  };
}

const defaultCurves = Object.keys(growthCurves).filter(
  (name) => name !== "von-bertalanffy-length",
) as CurveName[];
