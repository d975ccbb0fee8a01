import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import {
  fitLeastSquares,
  type LeastSquaresFit,
  type LeastSquaresModel,
} from "../stats/least-squares/fit-least-squares.js";
import { type CurveName, curveByName } from "./curve-catalogue.js";
import { type CurveFit, describeFit } from "./curve-fit-value.js";
import { type CurvePoints, curveModel } from "./curve-numbers.js";
import { fitCurve } from "./fit-curve.js";
import type { NamedSeries } from "./fit-many-curves.js";
import {
  fixedValues,
  type ParameterOptions,
  preparePoints,
  saidLeftOut,
} from "./fit-preparation.js";
import type { GrowthCurve } from "./growth-curve.js";

export interface SharedCurveFit {
  readonly curve: string;
  readonly converged: boolean;
  readonly shared: readonly string[];
  /** One fit a series; shared parameters have the same value and standard error in each. */
  readonly fits: readonly { readonly name: string; readonly fit: CurveFit }[];
  readonly residualSd: number | null;
  readonly residualDf: number;
  readonly rss: number | null;
}

export interface SharedCurveOptions extends Pick<ParameterOptions, "fixed"> {
  readonly curve: CurveName | GrowthCurve;
  /** Names of the parameters all series share, e.g. the final mass of a cohort. */
  readonly share: readonly string[];
  readonly ageUnit?: string | undefined;
  readonly massUnit?: string | undefined;
}

/**
 * Fits one curve to several series at once, with some parameters shared by all:
 * what one young series cannot tell (its final mass), the others lend it. One
 * residual standard deviation for all. Series with too few points are left out
 * and counted. Ages count from zero.
 *
 * @example
 * fitSharedCurve([{ name: "P1", ages, masses }, ...], { curve: "gompertz", share: ["A"] })
 */
export function fitSharedCurve(
  series: readonly NamedSeries[],
  options: SharedCurveOptions,
): Result<"fit-shared-curve", SharedCurveFit> {
  const curve = curveByName(options.curve);
  requireParameters(curve, options.share);
  const fixed = fixedValues(curve, options, 0);
  const isShared = curve.parameters.map((each) => options.share.includes(each.name));
  const own = isShared.filter((yes) => !yes).length;
  const prepared = series.map((each) => ({ name: each.name, ...preparePoints(each) }));
  const used = prepared.filter((each) => each.points.w.length > own);
  const layout = layOut(curve, used, isShared);
  const fit = used.length === 0 ? null : solve(curve, used, layout, fixed);
  const df = used.reduce((sum, each) => sum + each.points.w.length, 0) - (fit?.freeCount ?? 0);
  const converged = fit?.converged === true && df > 0;
  const known = used.every((each) => each.errors === "known-errors");
  const variance = converged ? (known ? 1 : fit.rss / df) : null;
  const whole: Whole = { curve, options, fixed, layout, fit, df, variance };
  return {
    kind: "fit-shared-curve",
    schema: 1,
    value: {
      curve: curve.name,
      converged,
      shared: options.share,
      fits: used.map((each, s) => ({ name: each.name, fit: fitOfOne(whole, used, s) })),
      residualSd: variance === null ? null : Math.sqrt(variance),
      residualDf: df,
      rss: converged ? fit.rss : null,
    },
    method: {
      name: `${curve.title} curve to several series, ${options.share.join(", ")} shared`,
      options: { curve: curve.name, share: options.share, fixed: options.fixed ?? {} },
      citations: curve.citations,
    },
    basis: {
      used: used.length,
      leftOut:
        used.length < series.length
          ? [{ reason: "too few weighings", count: series.length - used.length }]
          : [],
      of: "series",
    },
    diagnostics: {
      iterations: fit?.iterations ?? 0,
      relativeOffset: fit?.relativeOffset ?? null,
      stop: fit?.stop ?? null,
    },
    notices: saidOfFit(curve, prepared, used, own, converged, fit),
  };
}

function requireParameters(curve: GrowthCurve, share: readonly string[]): void {
  const names = curve.parameters.map((each) => each.name);
  for (const name of share) {
    if (names.includes(name)) continue;
    throw new UsageError({
      needed: `parameters of the ${curve.name} curve (${names.join(", ")})`,
      came: `"${name}" came`,
      where: "fitSharedCurve, option share",
      todo: "Use the parameters' symbols in the equation.",
    });
  }
}

function saidOfFit(
  curve: GrowthCurve,
  prepared: readonly Prepared[],
  used: readonly Prepared[],
  own: number,
  converged: boolean,
  fit: LeastSquaresFit | null,
): Notice[] {
  const notices: Notice[] = saidLeftOut(prepared.flatMap((each) => each.leftOut));
  if (used.length < prepared.length) {
    const names = prepared.filter((each) => !used.includes(each)).map((each) => each.name);
    notices.push(notice("growth-shared-left-out", "caution", { names, needed: own + 1 }));
  }
  if (!converged) {
    const about = {
      curve: curve.title,
      stop: fit?.stop ?? "no-start",
      iterations: fit?.iterations ?? 0,
    };
    notices.push(notice("growth-not-converged", "problem", about));
  }
  return notices;
}

/** Where each series' parameters lie in the long vector, shared ones first, and its rows among all. */
interface Layout {
  readonly places: readonly (readonly number[])[];
  readonly constants: readonly (readonly number[])[];
  readonly total: number;
  /** First row of each series. */
  readonly from: readonly number[];
}

function layOut(
  curve: GrowthCurve,
  used: readonly Prepared[],
  isShared: readonly boolean[],
): Layout {
  let total = 0;
  const sharedAt = isShared.map((yes) => (yes ? total++ : -1));
  const places = used.map(() => isShared.map((yes, j) => (yes ? sharedAt[j]! : total++)));
  let rows = 0;
  const from = used.map((each) => {
    const first = rows;
    rows += each.points.w.length;
    return first;
  });
  const constants = used.map((each) => curve.constants?.(each.points.t) ?? []);
  return { places, constants, total, from };
}

/** The fit to all series, of which each has its part. */
interface Whole {
  readonly curve: GrowthCurve;
  readonly options: SharedCurveOptions;
  readonly fixed: readonly (number | undefined)[] | undefined;
  readonly layout: Layout;
  readonly fit: LeastSquaresFit | null;
  readonly df: number;
  readonly variance: number | null;
}

function fitOfOne(whole: Whole, used: readonly Prepared[], s: number): CurveFit {
  const { curve, options, fixed, layout, fit, df, variance } = whole;
  const each = used[s]!;
  const part = fit === null ? null : partOf(fit, layout, s, each.points);
  const unscaled = part?.unscaledCovariance ?? null;
  const numbers = part && {
    fit: part,
    covariance: variance === null || unscaled === null ? null : unscaled.map((v) => v * variance),
    logLikelihood: Number.NaN,
    pooled: { df, variance: variance ?? Number.NaN },
  };
  const context = {
    points: each.points,
    origin: 0,
    constants: layout.constants[s]!,
    units: { age: options.ageUnit ?? "d", mass: options.massUnit ?? "g" },
    errors: each.errors,
    fixed,
    freeCount: curve.parameters.length,
  };
  const notices: Notice[] = [];
  const status = variance === null ? "not-converged" : "converged";
  return {
    kind: "fit-curve",
    schema: 1,
    value: describeFit(curve, numbers, status, context, notices),
    method: {
      name: `${curve.title} curve, ${options.share.join(", ")} shared`,
      options: { curve: curve.name, share: options.share },
      citations: curve.citations,
    },
    basis: { used: each.points.w.length, leftOut: each.leftOut, of: "weighings" },
    diagnostics: { sharedWith: used.length },
    notices,
  };
}

type Prepared = ReturnType<typeof preparePoints> & { readonly name: string };

function stackedModel(
  curve: GrowthCurve,
  used: readonly Prepared[],
  { constants, places, total }: Layout,
): LeastSquaresModel {
  const ages = used.map((each) => each.points.t);
  const p = curve.parameters.length;
  const parts = ages.map((t, s) => curveModel(curve, t, constants[s]!));
  const values = ages.map((t) => new Float64Array(t.length));
  const gradients = ages.map((t) => new Float64Array(t.length * p));
  const theta = new Float64Array(p);
  return {
    parameters: total,
    linear: [...new Set(places.flatMap((place) => curve.linear.map((j) => place[j]!)))],
    evaluate: (all, outValues, outGradient) => {
      outGradient.fill(0);
      let row = 0;
      for (let s = 0; s < parts.length; s++) {
        const place = places[s]!;
        for (let j = 0; j < p; j++) theta[j] = all[place[j]!]!;
        if (!parts[s]!.evaluate(theta, values[s]!, gradients[s]!)) return false;
        for (let i = 0; i < ages[s]!.length; i++, row++) {
          outValues[row] = values[s]![i]!;
          for (let j = 0; j < p; j++) {
            outGradient[row * total + place[j]!] = gradients[s]![i * p + j]!;
          }
        }
      }
      return true;
    },
  };
}

/** Starts from the single fits: shared parameters from the most exact ones. */
function solve(
  curve: GrowthCurve,
  used: readonly Prepared[],
  layout: Layout,
  fixed: readonly (number | undefined)[] | undefined,
): LeastSquaresFit {
  const { places, total } = layout;
  const model = stackedModel(curve, used, layout);
  const y = Float64Array.from(used.flatMap((each) => [...each.points.w]));
  const anyWeights = used.some((each) => each.points.rootWeights !== undefined);
  const rootWeights = used.flatMap((each) => [
    ...(each.points.rootWeights ?? each.points.w.map(() => 1)),
  ]);
  const singles = used.map(
    (each) =>
      fitCurve({ ages: [...each.points.t], masses: [...each.points.w] }, { curve, origin: 0 })
        .value,
  );
  const isFixed = new Array<boolean>(total).fill(false);
  const start = new Array<number>(total).fill(0);
  const p = curve.parameters.length;
  for (let j = 0; j < p; j++) {
    const good = singles
      .filter((each) => each.theta !== null)
      .sort(
        (a, b) =>
          (a.estimates[j]!.estimate.se ?? Infinity) - (b.estimates[j]!.estimate.se ?? Infinity),
      );
    const best = good.slice(0, Math.max(1, good.length >> 1)).map((each) => each.theta![j]!);
    const middle = best.sort((a, b) => a - b)[best.length >> 1] ?? 1;
    singles.forEach((each, s) => {
      const at = places[s]![j]!;
      start[at] = fixed?.[j] ?? (each.theta !== null && each.identified ? each.theta[j]! : middle);
      if (fixed?.[j] !== undefined) isFixed[at] = true;
    });
    const shared = places.length > 1 && places[0]![j] === places[1]![j];
    if (shared && fixed?.[j] === undefined) start[places[0]![j]!] = middle;
  }
  const data = { y, ...(anyWeights ? { rootWeights } : {}) };
  const first = fitLeastSquares(model, data, { start, fixed: isFixed, damping: 0.01 });
  if (first.converged) return first;
  const second = fitLeastSquares(model, data, { start, fixed: isFixed, damping: 1 });
  return second.converged || second.rss < first.rss ? second : first;
}

/** The part of a long fit that belongs to one series. */
function partOf(
  fit: LeastSquaresFit,
  layout: Layout,
  s: number,
  points: CurvePoints,
): LeastSquaresFit {
  const place = layout.places[s]!;
  const from = layout.from[s]!;
  const values = fit.values.slice(from, from + points.w.length);
  let rss = 0;
  values.forEach((value, i) => {
    rss += ((points.w[i]! - value) * (points.rootWeights?.[i] ?? 1)) ** 2;
  });
  const pick = <T>(all: readonly T[]): T[] => place.map((at) => all[at]!);
  return {
    ...fit,
    rss,
    theta: pick(fit.theta),
    atBound: pick(fit.atBound),
    inflation: pick(fit.inflation),
    unscaledCovariance:
      fit.unscaledCovariance === null
        ? null
        : place.flatMap((a) => place.map((b) => fit.unscaledCovariance![a * layout.total + b]!)),
    values,
  };
}
