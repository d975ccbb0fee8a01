import { type Notice, notice } from "../core/notice.js";
import { requireNumbers } from "../core/require-numbers.js";
import { UsageError } from "../core/usage-error.js";
import { centralDifference } from "../stats/numeric/central-difference.js";
import { growthCurves } from "./curve-catalogue.js";
import { compileFormula } from "./formula.js";
import type { CurveParameter, GrowthCurve } from "./growth-curve.js";

export interface OwnParameter extends CurveParameter {
  /** A value to start from, roughly right for the data. */
  readonly start: number;
}

export interface OwnCurve {
  readonly name: string;
  readonly title?: string;
  /** The mass W as a formula of t (age) and the parameters, e.g. `A / (1 + exp(-k * (t - Ti)))`. */
  readonly formula: string;
  readonly parameters: readonly OwnParameter[];
  /** Name of the parameter that is the final mass, if there is one. */
  readonly asymptote?: string;
  /** Where the formula is a mass, in words. */
  readonly domain?: string;
  readonly citation?: string;
}

/**
 * Makes a growth curve from a formula, to be given to `fitCurve` (and, with
 * `{ curve }`, to the questions about its fits). The gradient is computed by
 * differences with two step sizes, whose disagreement at the start values is
 * reported by `checkGradient`. Throws `UsageError` on a formula that cannot be
 * read or a name that is taken.
 *
 * @example
 * const curve = defineCurve({ name: "power", formula: "a * t ^ b", parameters: [
 *   { name: "a", meaning: "the mass at age 1", kind: "mass", start: 10 },
 *   { name: "b", meaning: "the power of age", kind: "shape", start: 1 } ] });
 */
export function defineCurve(own: OwnCurve): GrowthCurve {
  requireShape(own);
  if (Object.hasOwn(growthCurves, own.name)) {
    throw new UsageError({
      needed: "a name of its own for the curve",
      came: `"${own.name}" is taken`,
      where: "defineCurve",
      todo: "Choose another name.",
    });
  }
  const names = own.parameters.map((each) => each.name);
  const asymptote = own.asymptote === undefined ? -1 : names.indexOf(own.asymptote);
  if (own.asymptote !== undefined && asymptote < 0) {
    throw new UsageError({
      needed: `one of ${names.join(", ")}`,
      came: `"${own.asymptote}" came`,
      where: "defineCurve, asymptote",
      todo: "Name the parameter that is the final mass, or leave it out.",
    });
  }
  const formula = compileFormula(own.formula, ["t", ...names]);
  const p = names.length;
  const values = new Float64Array(p + 1);
  const put = (t: number, theta: ArrayLike<number>) => {
    values[0] = t;
    for (let j = 0; j < p; j++) values[j + 1] = theta[j]!;
  };
  return {
    name: own.name,
    title: own.title ?? own.name,
    equation: `W(t) = ${own.formula}`,
    parameters: own.parameters.map(({ start: _, ...rest }) => rest),
    linear: [],
    ...(asymptote < 0 ? {} : { asymptote }),
    domain: own.domain ?? "ages at which the formula has a value",
    usesOrigin: true,
    tries: 3,
    gradient: (t, theta, out, at) => {
      put(t, theta);
      const w = formula(values);
      for (let j = 0; j < p; j++) out[at + j] = centralDifference(formula, values, j + 1);
      return w;
    },
    gain: (t, theta) => {
      put(t, theta);
      return centralDifference(formula, values, 0);
    },
    starts: () => scattered(own.parameters.map((each) => each.start)),
    inflection: () => null,
    citations: own.citation === undefined ? [] : [own.citation],
  };
}

/** The start itself and each parameter up and down by a factor of 3, together. */
function scattered(start: readonly number[]): number[][] {
  let all: number[][] = [[]];
  for (const each of start) {
    all = all.flatMap((head) => [1, 1 / 3, 3].map((times) => [...head, each * times]));
    if (all.length > 729) all = all.filter((_, i) => i % 3 === 0);
  }
  return all;
}

/**
 * Checks the gradient of a curve by differences against the same with half the
 * step, at given ages and parameters: the largest disagreement relative to the
 * mass, and a notice in words.
 *
 * @example checkGradient(curveByName("logistic"), [10, 20], [5000, 20, 6]).difference // below 1e-6
 */
export function checkGradient(
  curve: GrowthCurve,
  ages: readonly number[],
  theta: readonly number[],
  constants: readonly number[] = [],
): { readonly difference: number; readonly notice: Notice } {
  requireNumbers("checkGradient", "ages", ages);
  requireNumbers("checkGradient", "parameters", theta);
  const p = theta.length;
  const out = new Float64Array(p);
  const spare = new Float64Array(p);
  let difference = 0;
  for (const t of ages) {
    const w = curve.gradient(t, theta, out, 0, constants);
    if (!Number.isFinite(w)) continue;
    for (let j = 0; j < p; j++) {
      const moved = Float64Array.from(theta);
      const f = (v: ArrayLike<number>) => curve.gradient(t, v, spare, 0, constants);
      const other = centralDifference(f, moved, j, 0.5);
      const scale = Math.max(Math.abs(out[j]!), Math.abs(w) / Math.max(Math.abs(theta[j]!), 1e-12));
      const off = Math.abs(out[j]! - other) / scale;
      difference = Math.max(difference, Number.isFinite(off) ? off : 1);
    }
  }
  const about = { curve: curve.title, difference };
  return {
    difference,
    notice:
      difference < 1e-6
        ? notice("growth-gradient-checked", "info", about)
        : notice("growth-gradient-rough", "caution", about),
  };
}

/** What a caller without types may have left out is named before it is used. */
function requireShape({ name, formula, parameters }: OwnCurve): void {
  const whole =
    typeof formula === "string" &&
    typeof name === "string" &&
    Array.isArray(parameters) &&
    parameters.every((each) => typeof each?.name === "string" && Number.isFinite(each.start));
  if (whole) return;
  throw new UsageError({
    needed: "a name, a formula as text, and parameters with a name and a start each",
    came: `name ${JSON.stringify(name)}, formula ${JSON.stringify(formula)}, parameters ${JSON.stringify(parameters)}`,
    where: "defineCurve",
    todo: 'Write, for example, formula: "a * t ^ b" and parameters: [{ name: "a", meaning: "the mass at age 1", kind: "mass", start: 10 }, ...].',
  });
}
