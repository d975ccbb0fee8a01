import { type Measured, measured } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import { requireResult } from "../../core/require-result.js";
import type { Result } from "../../core/result.js";
import { UsageError } from "../../core/usage-error.js";
import { type Individual, makeIndividual } from "../../stats/nonlinear-mixed/individual.js";
import { individualPrior } from "../../stats/nonlinear-mixed/prior.js";
import { curveByName } from "../curve-catalogue.js";
import { type GrowthCurve, parameterUnit } from "../growth-curve.js";
import { columnValues } from "./cohort-columns.js";
import type { CohortFit } from "./cohort-fit.js";

export interface PredictAnimalOptions {
  /** Ages at which to predict. */
  readonly at: readonly number[];
  /** "this animal" (default), given its weighings; or the "population"'s average animal. */
  readonly of?: "this animal" | "population";
  /** "true mass" (default), or the "next reading" of the scale with its scatter. */
  readonly intervalFor?: "true mass" | "next reading";
  readonly covariates?: Readonly<Record<string, string | number>>;
  /** Default 0.95. */
  readonly level?: number;
  /** Multiplier of the standard error from `calibrateCohort`, instead of Student's t. */
  readonly multiplier?: number;
  /** The curve itself, where it is one of your own. */
  readonly curve?: GrowthCurve;
}

export interface AnimalPrediction {
  readonly age: number;
  readonly mass: Measured;
  /** Gain over the day centred at this age. */
  readonly gain: Measured;
  /** Degrees of freedom behind the mass interval. */
  readonly df: number | null;
  readonly withinCohortAges: boolean;
}

export interface PredictedAnimal {
  readonly of: "this animal" | "population";
  readonly intervalFor: "true mass" | "next reading";
  readonly weighings: number;
  /** The animal's parameters as they stand now (natural scale). */
  readonly parameters: readonly { readonly name: string; readonly value: Measured }[];
  readonly predictions: readonly AnimalPrediction[];
}

export type NewAnimalPrediction = Result<"predict-new-animal", PredictedAnimal>;

/**
 * What to expect of an animal the cohort model has not seen, from none, one, two
 * ... of its weighings: expected mass and gain at any age, with an interval that
 * narrows as weighings arrive. With none it is the cohort's typical animal with
 * all the difference between animals in the interval.
 *
 * The choice between this animal and the population's average, and between its
 * true mass and the next reading of the scale, is in the options and in the
 * answer. Gains are averages over the day centred at the age.
 *
 * @throws UsageError when the fit did not converge or a covariate is missing.
 * @example
 * predictForNewAnimal(fit, { ages: [3], masses: [980] }, { at: [10] }).value.predictions[0].mass
 */
export function predictForNewAnimal(
  fit: CohortFit,
  weighings: { readonly ages: readonly number[]; readonly masses: readonly number[] },
  options: PredictAnimalOptions,
): NewAnimalPrediction {
  requireResult("predictForNewAnimal", "fit-cohort", fit);
  const follower = followNewAnimal(fit, options);
  const rows = weighings.ages
    .map((age, i) => ({ age, mass: weighings.masses[i]! }))
    .filter((r) => Number.isFinite(r.age) && Number.isFinite(r.mass) && r.mass > 0)
    .sort((a, b) => a.age - b.age);
  const dropped = weighings.ages.length - rows.length;
  for (const row of rows) follower.weigh(row.age, row.mass);
  return follower.result(options, dropped);
}

/**
 * As {@link predictForNewAnimal}, for an animal of the cohort, from its own weighings.
 *
 * @example predictForCohortAnimal(fit, "P1", { ages: [30] }) // the same as predictForNewAnimal of its weighings
 */
export function predictForCohortAnimal(
  fit: CohortFit,
  animal: string,
  options: PredictAnimalOptions,
): NewAnimalPrediction {
  requireResult("predictForCohortAnimal", "fit-cohort", fit);
  const found = fit.value.animals.find((a) => a.animal === animal);
  if (found === undefined) {
    throw new UsageError({
      needed: `an animal of the cohort (${fit.value.animals.map((a) => a.animal).join(", ")})`,
      came: `"${animal}" came`,
      where: "predictForCohortAnimal",
      todo: "Use predictForNewAnimal for an animal that was not in the fit.",
    });
  }
  return predictForNewAnimal(fit, found, { covariates: found.covariates, ...options });
}

/** A new animal followed weighing by weighing; one update costs microseconds. */
export interface FollowedAnimal {
  weigh(age: number, mass: number): void;
  /** Forgets all weighings: ready for the next animal with the same covariates. */
  reset(): void;
  /** Expected mass and interval at an age, bare numbers. */
  expect(
    age: number,
    options?: { readonly intervalFor?: "true mass" | "next reading"; readonly level?: number },
  ): { readonly mass: number; readonly se: number; readonly lower: number; readonly upper: number };
  result(options: PredictAnimalOptions, leftOut?: number): NewAnimalPrediction;
}

/**
 * Prepares the posterior of a new animal for many updates in a row, as when
 * thousands of animal-days are replayed.
 *
 * @example const pup = followNewAnimal(fit); pup.weigh(3, 980); pup.expect(10).mass
 */
export function followNewAnimal(
  fit: CohortFit,
  options: {
    readonly covariates?: Readonly<Record<string, string | number>>;
    readonly curve?: GrowthCurve;
  } = {},
): FollowedAnimal {
  requireResult("followNewAnimal", "fit-cohort", fit);
  const { value } = fit;
  if (value.population === null) {
    throw new UsageError({
      needed: "a cohort fit that converged",
      came: `its status is "${value.status}"`,
      where: "predictForNewAnimal",
      todo: "Read the fit's notices: more animals, or a curve with fewer parameters, may help.",
    });
  }
  const curve = options.curve ?? curveByName(value.curve);
  const { constants, origin, units } = value;
  const prior = individualPrior(
    value.population,
    columnValues(value.covariates, options.covariates ?? {}, "predictForNewAnimal"),
  );
  const one = makeIndividual(prior, (x, phi, out, at) =>
    curve.gradient(x, phi, out, at, constants),
  );
  const used: number[] = [];
  return {
    weigh(age, mass) {
      one.observe(age - origin, mass);
      used.push(age);
    },
    reset() {
      one.reset();
      used.length = 0;
    },
    expect(age, o = {}) {
      const p = one.predict(age - origin, {
        what: o.intervalFor === "next reading" ? "reading" : "mean",
        level: o.level ?? 0.95,
      });
      return { mass: p.value, se: p.se, lower: p.lower, upper: p.upper };
    },
    result: (o, leftOut = 0) => describe(fit, curve, one, o, used.length, leftOut, units),
  };
}

function describe(
  fit: CohortFit,
  curve: GrowthCurve,
  one: Individual,
  options: PredictAnimalOptions,
  count: number,
  leftOut: number,
  units: { readonly age: string; readonly mass: string },
): NewAnimalPrediction {
  const { value } = fit;
  const { of = "this animal", intervalFor = "true mass", level = 0.95 } = options;
  const notices: Notice[] = [];
  const shared = {
    of: of === "population" ? ("population" as const) : ("individual" as const),
    level,
    ...(options.multiplier === undefined ? {} : { multiplier: options.multiplier }),
  };
  const gainUnit = `${units.mass}/${units.age}`;
  const predictions = options.at.map((age): AnimalPrediction => {
    const x = age - value.origin;
    const mass = one.predict(x, {
      ...shared,
      what: intervalFor === "next reading" ? "reading" : "mean",
    });
    const gain = one.predictRise(x - 0.5, x + 0.5, shared);
    const within = age >= value.ages.from && age <= value.ages.to;
    const as = (p: typeof mass, unit: string) =>
      measured(p.value, unit, {
        se: p.se,
        interval: { lower: p.lower, upper: p.upper, level },
        n: count,
      });
    return {
      age,
      mass: as(mass, units.mass),
      gain: as(gain, gainUnit),
      df: Number.isFinite(mass.df) ? mass.df : null,
      withinCohortAges: within,
    };
  });
  const beyond = predictions.filter((p) => !p.withinCohortAges);
  if (beyond.length > 0) {
    notices.push(
      notice("cohort-beyond-ages", "caution", {
        ages: beyond.map((p) => p.age),
        from: value.ages.from,
        to: value.ages.to,
        unit: units.age,
      }),
    );
  }
  if (!one.converged)
    notices.push(notice("cohort-animal-not-settled", "problem", { weighings: count }));
  notices.push(
    notice(
      count === 0 ? "cohort-prediction-without-weighings" : "cohort-prediction-with-weighings",
      "info",
      { weighings: count, animals: value.animals.length, intervalFor, of },
    ),
  );
  const k = curve.parameters.length;
  return {
    kind: "predict-new-animal",
    schema: 1,
    value: {
      of,
      intervalFor,
      weighings: count,
      parameters: curve.parameters.map((p, j) => ({
        name: p.name,
        value: measured(one.phi[j]!, parameterUnit(p.kind, units.age, units.mass), {
          se:
            Math.sqrt(one.covariance[j * k + j]!) *
            (value.parameters[j]!.logScale ? one.phi[j]! : 1),
        }),
      })),
      predictions,
    },
    method: {
      name: "posterior of one animal under a cohort model",
      options: {
        at: [...options.at],
        of,
        intervalFor,
        level,
        multiplier: options.multiplier ?? null,
        covariates: options.covariates ?? {},
      },
      citations: [
        "Lindstrom MJ, Bates DM (1990) Biometrics 46:673-687",
        "Prasad NGN, Rao JNK (1990) J Am Stat Assoc 85:163-171",
      ],
    },
    basis: {
      used: count,
      leftOut: leftOut > 0 ? [{ reason: "no usable age or mass", count: leftOut }] : [],
      of: "weighings",
    },
    diagnostics: { converged: one.converged },
    notices,
  };
}
