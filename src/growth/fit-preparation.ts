import { type Notice, notice } from "../core/notice.js";
import { requireList } from "../core/require-numbers.js";
import type { LeftOut } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import type { CurvePoints } from "./curve-numbers.js";
import { checkErrors, type FitErrors } from "./fit-errors.js";
import type { GrowthCurve } from "./growth-curve.js";

export interface CurveData {
  /** Ages, by default in days. */
  readonly ages: readonly number[];
  /** Masses, by default in grams. */
  readonly masses: readonly number[];
  /** How exact each mass is; absent means equally exact. */
  readonly errors?: FitErrors | undefined;
}

/** What of the options names parameters. */
export interface ParameterOptions {
  /** Parameters that stay at a given value, by name. */
  readonly fixed?: Readonly<Record<string, number>> | undefined;
  /** Closed limits by name. */
  readonly bounds?:
    | Readonly<Record<string, { readonly lower?: number; readonly upper?: number }>>
    | undefined;
  /** A start instead of the curve's own guess, by name. */
  readonly start?: Readonly<Record<string, number>> | undefined;
}

/** A notice where rows were left out: dropped in silence, a zero on a scale looks like no weighing. */
export function saidLeftOut(leftOut: readonly LeftOut[]): Notice[] {
  const count = leftOut
    .filter((each) => [NO_NUMBER, NOT_POSITIVE, UNUSABLE].includes(each.reason))
    .reduce((sum, each) => sum + each.count, 0);
  return count === 0 ? [] : [notice("growth-masses-left-out", "caution", { count })];
}

/** In a cohort the two are counted together. */
export const UNUSABLE = "no usable age or mass";
const NO_NUMBER = "age or mass is missing or not a number";
const NOT_POSITIVE = "mass is not above zero";

/** Checks the rows, leaves out what cannot be used (counted), and puts the rest in order of age. */
export function preparePoints(data: CurveData): {
  points: CurvePoints;
  leftOut: LeftOut[];
  errors: "equal" | FitErrors["kind"];
} {
  const { ages, masses } = data;
  requireList("fitCurve", "ages", ages);
  requireList("fitCurve", "masses", masses);
  if (ages.length !== masses.length) {
    throw new UsageError({
      needed: "as many ages as masses",
      came: `${ages.length} ages and ${masses.length} masses came`,
      where: "fitCurve",
      todo: "Give one mass for each age.",
    });
  }
  const given = checkErrors(data.errors, ages.length, "fitCurve, errors");
  if (given === undefined && isClean(ages, masses)) {
    const points = { t: new Float64Array(ages), w: new Float64Array(masses) };
    return { points, leftOut: [], errors: "equal" };
  }
  const rows: number[] = [];
  let noNumber = 0;
  let notPositive = 0;
  let badError = 0;
  let sorted = true;
  for (let i = 0; i < ages.length; i++) {
    const mass = masses[i]!;
    if (!Number.isFinite(ages[i]!) || !Number.isFinite(mass)) noNumber++;
    else if (!(mass > 0)) notPositive++;
    else if (given !== undefined && !(errorOf(given, i) > 0)) badError++;
    else {
      if (rows.length > 0 && ages[i]! < ages[rows[rows.length - 1]!]!) sorted = false;
      rows.push(i);
    }
  }
  if (!sorted) rows.sort((a, b) => ages[a]! - ages[b]! || masses[a]! - masses[b]!);
  const n = rows.length;
  const t = new Float64Array(n);
  const w = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    t[i] = ages[rows[i]!]!;
    w[i] = masses[rows[i]!]!;
  }
  const leftOut: LeftOut[] = [];
  if (noNumber > 0) leftOut.push({ reason: NO_NUMBER, count: noNumber });
  if (notPositive > 0) leftOut.push({ reason: NOT_POSITIVE, count: notPositive });
  if (badError > 0) leftOut.push({ reason: "error or weight is not above zero", count: badError });
  if (given === undefined) return { points: { t, w }, leftOut, errors: "equal" };
  const rootWeights = Float64Array.from(rows, (i) => errorOf(given, i));
  return { points: { t, w, rootWeights }, leftOut, errors: given.kind };
}

/** The common case: finite, positive, and in order of age. */
function isClean(ages: readonly number[], masses: readonly number[]): boolean {
  let before = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < ages.length; i++) {
    const age = ages[i]!;
    const mass = masses[i]!;
    // Text compares like the number in it, and must not pass for one.
    if (typeof age !== "number" || typeof mass !== "number") return false;
    // `> before` and not `>=`: rows of equal age are put in order of mass below.
    if (!(age > before && age < Infinity && mass > 0 && mass < Infinity)) return false;
    before = age;
  }
  return true;
}

/** 1 / sd, or the root of the weight; not above zero where unusable. */
function errorOf(errors: FitErrors, row: number): number {
  if (errors.kind === "relative-weights") {
    const root = Math.sqrt(errors.weights[row]!);
    return Number.isFinite(root) ? root : 0;
  }
  const inverse = 1 / errors.sd[row]!;
  return Number.isFinite(inverse) ? inverse : 0;
}
/** Age zero counts, unless it lies so far outside that a start mass there means nothing. */
export function chooseOrigin(
  curve: GrowthCurve,
  ages: ArrayLike<number>,
  asked: number | undefined,
  units: { readonly age: string },
  notices: Notice[],
): number {
  if (asked !== undefined) return asked;
  const n = ages.length;
  if (n === 0) return 0;
  const first = ages[0]!;
  const span = ages[n - 1]! - first;
  if (Math.abs(first) <= 20 * span) return 0;
  if (curve.usesOrigin)
    notices.push(notice("growth-origin-moved", "info", { age: first, unit: units.age }));
  return first;
}

function positionOf(curve: GrowthCurve, name: string, option: string): number {
  const at = curve.parameters.findIndex((each) => each.name === name);
  if (at >= 0) return at;
  throw new UsageError({
    needed: `a parameter of the ${curve.name} curve (${curve.parameters.map((each) => each.name).join(", ")})`,
    came: `"${name}" came`,
    where: `fitCurve, option ${option}`,
    todo: "Use the parameter's symbol in the equation.",
  });
}

function inFitTerms(curve: GrowthCurve, at: number, value: number, origin: number): number {
  return curve.parameters[at]!.kind === "age" ? value - origin : value;
}

export function fixedValues(
  curve: GrowthCurve,
  options: ParameterOptions,
  origin: number,
): (number | undefined)[] | undefined {
  if (options.fixed === undefined) return undefined;
  const fixed = new Array<number | undefined>(curve.parameters.length).fill(undefined);
  for (const [name, value] of Object.entries(options.fixed)) {
    const at = positionOf(curve, name, "fixed");
    fixed[at] = inFitTerms(curve, at, value, origin);
  }
  return fixed;
}

export function boundValues(
  curve: GrowthCurve,
  options: ParameterOptions,
  origin: number,
): { lower: number[] | undefined; upper: number[] | undefined } {
  if (options.bounds === undefined) return { lower: undefined, upper: undefined };
  const lower = new Array<number>(curve.parameters.length).fill(-Infinity);
  const upper = new Array<number>(curve.parameters.length).fill(Infinity);
  for (const [name, bound] of Object.entries(options.bounds)) {
    const at = positionOf(curve, name, "bounds");
    if (bound.lower !== undefined) lower[at] = inFitTerms(curve, at, bound.lower, origin);
    if (bound.upper !== undefined) upper[at] = inFitTerms(curve, at, bound.upper, origin);
  }
  return { lower, upper };
}

export function startValues(
  curve: GrowthCurve,
  start: Readonly<Record<string, number>>,
  origin: number,
): number[] {
  for (const name of Object.keys(start)) positionOf(curve, name, "start");
  return curve.parameters.map((each, at) => inFitTerms(curve, at, start[each.name] ?? 1, origin));
}
