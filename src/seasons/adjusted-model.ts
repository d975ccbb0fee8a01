import {
  applyQTransposed,
  householderQr,
  inverseCrossProduct,
  solveQr,
} from "../stats/linear-algebra/householder-qr.js";
import { matrixFromRows } from "../stats/linear-algebra/matrix.js";
import type { SeasonGain } from "./season-gain.js";

/** What a season's gain is adjusted for, in the order in which it is taken up. */
export const adjustments = ["arrival mass", "arrival age", "sex"] as const;
export type Adjustment = (typeof adjustments)[number];

/** The linear model gain = season + adjustments, on animals, with one spread for all seasons. */
export interface AdjustedModel {
  readonly seasons: readonly string[];
  readonly used: readonly Adjustment[];
  readonly dropped: readonly { readonly adjustment: Adjustment; readonly why: DropReason }[];
  readonly n: number;
  readonly df: number;
  /** Spread of animals about the model, g/d. */
  readonly residualSd: number;
  /** Per season: mean gain at the common (mean) adjustments, g/d. */
  readonly adjustedMeans: readonly number[];
  /** Coefficients: seasons first, then the columns of the adjustments. */
  readonly coefficients: readonly number[];
  /** Unscaled covariance of the coefficients, (X'X)^-1. */
  readonly unscaled: readonly (readonly number[])[];
  readonly design: readonly (readonly number[])[];
  readonly response: readonly number[];
  readonly fitted: readonly number[];
  readonly residuals: readonly number[];
  /** Means at which the seasons are compared. */
  readonly at: { readonly arrivalMassG: number; readonly arrivalAgeD: number | null };
}

export type DropReason =
  | "not asked for"
  | "too few animals"
  | "unknown in some animal"
  | "the same in all animals"
  | "follows from the others";

/** Residual degrees of freedom that an adjustment must leave. */
export const LEAST_DF = 6;

/**
 * Fits the model by least squares (Householder QR). The adjustments asked for
 * are taken up in a fixed order as long as at least six residual degrees of
 * freedom remain; gains play no part in that choice. Each is centred at its
 * mean over all animals, so a season's coefficient is its adjusted mean.
 * Null where no season has two animals' worth of freedom (df < 1).
 */
export function fitAdjustedModel(
  animals: readonly SeasonGain[],
  seasons: readonly string[],
  asked: readonly Adjustment[] = adjustments,
): AdjustedModel | null {
  const n = animals.length;
  const k = seasons.length;
  if (n - k < 1 || seasons.some((s) => animals.every((a) => a.season !== s))) return null;
  const response = animals.map((a) => a.gain);
  const base = animals.map((a) => seasons.map((s) => (a.season === s ? 1 : 0)));
  const used: Adjustment[] = [];
  const dropped: { adjustment: Adjustment; why: DropReason }[] = [];
  let design: number[][] = base;
  for (const adjustment of adjustments) {
    const drop = (why: DropReason) => dropped.push({ adjustment, why });
    if (!asked.includes(adjustment)) drop("not asked for");
    else if (n - design[0]!.length - 1 < LEAST_DF) drop("too few animals");
    else {
      const column = columnOf(animals, adjustment);
      if (column === null) drop("unknown in some animal");
      else if (column.every((x) => x === column[0])) drop("the same in all animals");
      else {
        const wider = design.map((row, i) => [...row, column[i]!]);
        if (householderQr(matrixFromRows(wider)).rank < wider[0]!.length)
          drop("follows from the others");
        else {
          design = wider;
          used.push(adjustment);
        }
      }
    }
  }
  const qr = householderQr(matrixFromRows(design));
  const p = design[0]!.length;
  if (qr.rank < p) return null;
  const coefficients = solveQr(qr, response).map((x) => x ?? 0);
  const effects = applyQTransposed(qr, response);
  const df = n - p;
  let rss = 0;
  for (let i = p; i < n; i++) rss += effects[i]! ** 2;
  const inverse = inverseCrossProduct(qr);
  const fitted = design.map((row) => row.reduce((s, x, j) => s + x * coefficients[j]!, 0));
  return {
    seasons,
    used,
    dropped,
    n,
    df,
    residualSd: Math.sqrt(rss / df),
    adjustedMeans: coefficients.slice(0, k),
    coefficients,
    unscaled: Array.from({ length: p }, (_, i) =>
      Array.from({ length: p }, (_, j) => inverse.data[i * p + j]!),
    ),
    design,
    response,
    fitted,
    residuals: response.map((y, i) => y - fitted[i]!),
    at: {
      arrivalMassG: mean(animals.map((a) => a.arrivalMassG)),
      arrivalAgeD: animals.some((a) => a.arrivalAgeD === null)
        ? null
        : mean(animals.map((a) => a.arrivalAgeD ?? 0)),
    },
  };
}

/** Difference of two seasons' adjusted means, `to` minus `from`, and its standard error. */
export function contrast(
  model: AdjustedModel,
  from: string,
  to: string,
): { readonly difference: number; readonly se: number } {
  const a = model.seasons.indexOf(from);
  const b = model.seasons.indexOf(to);
  const v = model.unscaled;
  return {
    difference: model.adjustedMeans[b]! - model.adjustedMeans[a]!,
    se: model.residualSd * Math.sqrt(v[a]![a]! + v[b]![b]! - 2 * v[a]![b]!),
  };
}

function columnOf(animals: readonly SeasonGain[], adjustment: Adjustment): number[] | null {
  if (adjustment === "sex" && animals.some((a) => a.sex === "unknown")) return null;
  if (adjustment === "arrival age" && animals.some((a) => a.arrivalAgeD === null)) return null;
  const raw = animals.map((a) =>
    adjustment === "arrival mass"
      ? a.arrivalMassG / 1000
      : adjustment === "arrival age"
        ? (a.arrivalAgeD ?? 0)
        : a.sex === "male"
          ? 0.5
          : -0.5,
  );
  // Sex is coded as it stands (half way between the sexes); numbers at their mean.
  if (adjustment === "sex") return raw;
  const centre = mean(raw);
  return raw.map((x) => x - centre);
}

function mean(xs: readonly number[]): number {
  return xs.reduce((a, b) => a + b, 0) / xs.length;
}
