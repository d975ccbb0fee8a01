import type { Measured } from "../core/measured.js";
import { notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import { requireNumber } from "../core/require-numbers.js";
import { requireResult } from "../core/require-result.js";
import type { Result } from "../core/result.js";
import { findRoot } from "../stats/numeric/find-root.js";
import { curveByName, curveTitle } from "./curve-catalogue.js";
import type { CurveFit } from "./curve-fit-value.js";
import { type DerivedOptions, derivedQuantity } from "./derived-quantity.js";
import type { GrowthCurve } from "./growth-curve.js";

export interface DerivedGrowth {
  readonly inflectionAge: Measured;
  readonly inflectionMass: Measured;
  /** Gain at the inflection. */
  readonly greatestGain: Measured;
  /** Gain over mass at the inflection, per unit of age. */
  readonly relativeGainAtInflection: Measured;
  /** Final mass, where the curve has one. */
  readonly finalMass: Measured;
  /** Mass at the last age weighed over the final mass. */
  readonly maturityAtLastAge: Measured;
}

/**
 * What a fitted curve says about growth, each with a standard error and an
 * interval (delta method): age and mass at the inflection, greatest gain,
 * relative gain there, final mass and degree of maturity. What the curve does
 * not have, or the data do not tell, is `null` with the reason.
 *
 * @example
 * // logistic with A = 15, k = 0.02, Ti = 60: greatest gain A k / 4 = 0.075
 * deriveGrowth(fit).value.greatestGain
 */
export function deriveGrowth(
  fit: CurveFit,
  options: DerivedOptions = {},
): Result<"derive-growth", DerivedGrowth> {
  requireResult("deriveGrowth", "fit-curve", fit);
  const { units, origin, constants: c, points } = fit.value;
  const gainUnit = `${units.mass}/${units.age}`;
  const out = new Float64Array(32);
  const mass = (curve: GrowthCurve, p: ArrayLike<number>, t: number) =>
    curve.gradient(t, p, out, 0, c);
  const atInflection =
    (g: (curve: GrowthCurve, p: ArrayLike<number>, t: number) => number) =>
    (curve: GrowthCurve, p: ArrayLike<number>) => {
      const t = curve.inflection(p, c);
      return t === null ? null : g(curve, p, t);
    };
  const make = (
    name: string,
    unit: string,
    f: (curve: GrowthCurve, p: ArrayLike<number>) => number | null,
    needsAsymptote = false,
  ) => derivedQuantity(fit, unit, f, { ...options, name, needsAsymptote });
  const last = (points.ages[points.ages.length - 1] ?? 0) - origin;
  const value: DerivedGrowth = {
    inflectionAge: make(
      "age at the inflection",
      units.age,
      atInflection((_, __, t) => t + origin),
      true,
    ),
    inflectionMass: make("mass at the inflection", units.mass, atInflection(mass), true),
    greatestGain: make(
      "greatest gain",
      gainUnit,
      atInflection((curve, p, t) => curve.gain(t, p, c)),
      true,
    ),
    relativeGainAtInflection: make(
      "relative gain at the inflection",
      `1/${units.age}`,
      atInflection((curve, p, t) => curve.gain(t, p, c) / mass(curve, p, t)),
      true,
    ),
    finalMass: make("final mass", units.mass, finalMassOf(c), true),
    maturityAtLastAge: make(
      "degree of maturity",
      "1",
      (curve, p) => {
        const final = finalMassOf(c)(curve, p);
        return final === null ? null : mass(curve, p, last) / final;
      },
      true,
    ),
  };
  const notices: Notice[] = [];
  for (const each of Object.values(value)) {
    if (each.why !== undefined && !notices.some((one) => one.code === each.why.code)) {
      notices.push(each.why);
    }
  }
  return {
    kind: "derive-growth",
    schema: 1,
    value,
    method: {
      name: "Delta method on the fitted curve",
      options: { level: options.level ?? 0.95, curve: fit.value.curve },
      citations: fit.method.citations,
    },
    basis: fit.basis,
    diagnostics: {},
    notices,
  };
}

/**
 * Gain over mass at an age, per unit of age, e.g. 0.012 1/d is 1.2 % a day.
 *
 * @example
 * const ages = [5, 12, 19, 26, 33, 40], masses = [2400, 3010, 3720, 4480, 5270, 6060];
 * const fit = fitCurve({ ages, masses }, { curve: "gompertz" });
 * relativeGainAt(fit, 20).value // 0.0274009
 */
export function relativeGainAt(fit: CurveFit, age: number, options: DerivedOptions = {}): Measured {
  requireResult("relativeGainAt", "fit-curve", fit);
  requireNumber("relativeGainAt", "an age", age);
  const { origin, constants: c, units, points } = fit.value;
  const out = new Float64Array(32);
  const t = age - origin;
  return derivedQuantity(
    fit,
    `1/${units.age}`,
    (curve, p) => curve.gain(t, p, c) / curve.gradient(t, p, out, 0, c),
    {
      ...options,
      name: "relative gain",
      needsAsymptote: age > (points.ages[points.ages.length - 1] ?? Infinity),
    },
  );
}

/**
 * Degree of maturity at an age: mass over final mass.
 *
 * @example
 * const ages = [5, 12, 19, 26, 33, 40], masses = [2400, 3010, 3720, 4480, 5270, 6060];
 * const fit = fitCurve({ ages, masses }, { curve: "gompertz" });
 * maturityAt(fit, 40).value // 0.346284
 */
export function maturityAt(fit: CurveFit, age: number, options: DerivedOptions = {}): Measured {
  requireResult("maturityAt", "fit-curve", fit);
  requireNumber("maturityAt", "an age", age);
  const { origin, constants: c } = fit.value;
  const out = new Float64Array(32);
  return derivedQuantity(
    fit,
    "1",
    (curve, p) => {
      const final = finalMassOf(c)(curve, p);
      return final === null ? null : curve.gradient(age - origin, p, out, 0, c) / final;
    },
    { ...options, name: "degree of maturity", needsAsymptote: true },
  );
}

/**
 * The age at which the curve reaches a mass, with its standard error. Refused,
 * with the reason, where the mass lies beyond what was weighed and the final
 * mass is not identified, and where the curve never reaches it.
 *
 * @example
 * const ages = [5, 12, 19, 26, 33, 40], masses = [2400, 3010, 3720, 4480, 5270, 6060];
 * const fit = fitCurve({ ages, masses }, { curve: "gompertz" });
 * ageAtMass(fit, 5000).value // 30.7065
 */
export function ageAtMass(fit: CurveFit, mass: number, options: DerivedOptions = {}): Measured {
  requireResult("ageAtMass", "fit-curve", fit);
  requireNumber("ageAtMass", "a mass", mass);
  const { value } = fit;
  const { origin, constants: c, units, points } = value;
  const heaviest = Math.max(...points.masses);
  if (value.theta !== null && mass > heaviest && value.asymptoteIdentified === false) {
    const about = { curve: curveTitle(value.curve), mass, unit: units.mass, heaviest };
    return notDefined(units.age, notice("growth-target-beyond-unidentified", "problem", about));
  }
  const out = new Float64Array(32);
  const found = derivedQuantity(
    fit,
    units.age,
    (curve, p) => {
      const t = firstAgeAt(curve, p, c, mass, points.ages, origin, out);
      return t === null ? null : t + origin;
    },
    { ...options, name: "age at a mass" },
  );
  if (found.value !== null || value.theta === null) return found;
  const curve = options.curve ?? curveByName(value.curve);
  const final = finalMassOf(c)(curve, value.theta);
  const about = { curve: curve.title, mass, unit: units.mass, final };
  return notDefined(units.age, notice("growth-target-never-reached", "info", about));
}

function finalMassOf(c: readonly number[]) {
  return (curve: GrowthCurve, p: ArrayLike<number>): number | null =>
    curve.finalMass !== undefined
      ? curve.finalMass(p, c)
      : curve.asymptote === undefined
        ? null
        : p[curve.asymptote]!;
}

/** The first age from the first weighing on (else before it) at which the curve passes a mass. */
function firstAgeAt(
  curve: GrowthCurve,
  p: ArrayLike<number>,
  c: readonly number[],
  mass: number,
  ages: readonly number[],
  origin: number,
  out: Float64Array,
): number | null {
  const first = (ages[0] ?? 0) - origin;
  const span = (ages[ages.length - 1] ?? 1) - (ages[0] ?? 0) || 1;
  const over = (t: number) => curve.gradient(t, p, out, 0, c) - mass;
  const walk = (direction: 1 | -1): number | null => {
    let from = first;
    let atFrom = over(from);
    for (let i = 0; i < 400; i++) {
      const to = from + direction * (span / 50) * (i < 100 ? 1 : 1.1 ** (i - 100));
      const atTo = over(to);
      if (!Number.isFinite(atTo)) return null;
      if (atFrom === 0) return from;
      if (atFrom * atTo <= 0) {
        const root = findRoot(over, from, to, { tolerance: 1e-12 * (Math.abs(to) + span) });
        return root.converged ? root.x : null;
      }
      from = to;
      atFrom = atTo;
    }
    return null;
  };
  return walk(1) ?? walk(-1);
}
