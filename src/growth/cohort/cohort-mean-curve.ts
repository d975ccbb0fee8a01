import { type Measured, measured, notDefined } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import { requireResult } from "../../core/require-result.js";
import type { Result } from "../../core/result.js";
import { UsageError } from "../../core/usage-error.js";
import { type AveragedSum, averageOverIndividuals } from "../../stats/nonlinear-mixed/average.js";
import type { CurveSum } from "../../stats/nonlinear-mixed/individual-sums.js";
import { curveByName } from "../curve-catalogue.js";
import { curveWithinLimits } from "../curve-within-limits.js";
import type { GrowthCurve } from "../growth-curve.js";
import type { CohortFit } from "./cohort-fit.js";
import { cohortMix } from "./cohort-mix.js";

export interface CohortMeanOptions {
  /** Ages at which mass and gain are given. */
  readonly at: readonly number[];
  /** Ages between which the mean gain is given as well. Default: the first and last of `at`. */
  readonly from?: number;
  readonly to?: number;
  /** Averages over animals of this kind only. Default: over the mix of kinds in the cohort. */
  readonly covariates?: Readonly<Record<string, string | number>>;
  /** Default 0.95. */
  readonly level?: number;
  /** The share of animals below each end of the bands. Default 0.1 and 0.9. */
  readonly band?: readonly [number, number];
  /** Animals drawn for the bands. Default 4000. */
  readonly draws?: number;
  /** Default 1. */
  readonly seed?: number;
  /** The curve itself, where it is one of your own. */
  readonly curve?: GrowthCurve;
}

/** One quantity of the cohort, said in the three ways that must not be mixed up. */
export interface CohortMean {
  /** Mean over animals, with the interval of that mean. */
  readonly average: Measured;
  /** The same for the animal at the middle of the parameters. */
  readonly typical: Measured;
  /** Between these lies the middle share of animals; not an interval of the mean. */
  readonly animals: { readonly lower: Measured; readonly upper: Measured };
}

export interface CohortMeanCurve {
  readonly band: readonly [number, number];
  readonly ages: readonly {
    readonly age: number;
    readonly mass: CohortMean;
    /** Gain over the day centred at this age. */
    readonly gain: CohortMean;
    readonly withinCohortAges: boolean;
  }[];
  /** Mean gain from one age to another. */
  readonly gainOver: { readonly from: number; readonly to: number; readonly gain: CohortMean };
}

/**
 * The averaged curve of a cohort: the mean mass and gain of its animals at each
 * age, beside the typical animal's curve, and the band in which most animals lie.
 *
 * The typical animal has the mean parameters; where a curve bends, animals that
 * are early and animals that are late both gain less at the age at which the
 * typical one gains most, so that its gain lies above the mean gain. Which one to
 * use depends on the question: how one animal grows (typical), or what animals
 * weigh or gain on average at an age (averaged).
 *
 * Mean over the fitted distribution of animals by Gauss-Hermite quadrature; its
 * interval carries the uncertainty of the mean parameters and of the differences
 * between animals, with Student's t (animals - 1 degrees of freedom). The bands
 * are centiles of animals' true masses and gains at each age by itself, from
 * seeded draws at the estimates. Animals that the fitted distribution places
 * outside the curve's domain (a rate below zero) are left out of both; a notice
 * says how many where they are more than 1 in 1000.
 *
 * Masses and gains in the cohort's units. Source: population-averaged against
 * subject-specific, Zeger, Liang and Albert (1988) Biometrics 44:1049-1060;
 * Lindsey and Lambert (1998) Stat Med 17:447-469 (both named from memory).
 *
 * @throws UsageError when the fit did not converge, or a covariate is missing.
 * @example
 * cohortMeanCurve(fit, { at: [30], from: 20, to: 60 }).value.gainOver.gain.average
 * // { value: 61.2, unit: "g/d", se: 1.9, interval: { lower: 57.1, upper: 65.3, level: 0.95 }, n: 15 }
 */
export function cohortMeanCurve(
  fit: CohortFit,
  options: CohortMeanOptions,
): Result<"cohort-mean-curve", CohortMeanCurve> {
  requireResult("cohortMeanCurve", "fit-cohort", fit);
  const { value } = fit;
  const { at, level = 0.95, band = [0.1, 0.9], draws = 4000, seed = 1 } = options;
  if (value.population === null) {
    throw new UsageError({
      needed: "a cohort fit that converged",
      came: `its status is "${value.status}"`,
      where: "cohortMeanCurve",
      todo: "Read the fit's notices: more animals, or a curve with fewer parameters, may help.",
    });
  }
  const from = options.from ?? at[0] ?? value.ages.from;
  const to = options.to ?? at.at(-1) ?? value.ages.to;
  if (!(to > from)) {
    throw new UsageError({
      needed: "an age to that lies after the age from",
      came: `from ${from} to ${to} came`,
      where: "cohortMeanCurve, options from and to",
      todo: "Give the ages between which the mean gain is wanted.",
    });
  }
  const curve = options.curve ?? curveByName(value.curve);
  const { origin, units, animals } = value;
  const rise = (a: number, b: number): CurveSum => [
    { x: b - origin, weight: 1 / (b - a) },
    { x: a - origin, weight: -1 / (b - a) },
  ];
  const sums: CurveSum[] = [
    rise(from, to),
    ...at.flatMap((age) => [[{ x: age - origin, weight: 1 }], rise(age - 0.5, age + 0.5)]),
  ];
  const averaged = averageOverIndividuals(
    value.population,
    curveWithinLimits(curve, value.constants),
    sums,
    {
      mix: cohortMix(fit, options.covariates, "cohortMeanCurve"),
      level,
      shares: band,
      draws,
      seed,
    },
  );
  const gainUnit = `${units.mass}/${units.age}`;
  const nowhere = notice("cohort-average-outside", "problem", { share: 1, curve: curve.title });
  const known = (
    x: number | null | undefined,
    unit: string,
    more: Parameters<typeof measured>[2],
  ) =>
    x === null || x === undefined || !Number.isFinite(x)
      ? notDefined(unit, nowhere)
      : measured(x, unit, { n: animals.length, ...more });
  const as = (s: AveragedSum, unit: string): CohortMean => ({
    average: known(s.mean, unit, {
      se: s.se,
      interval: { lower: s.lower, upper: s.upper, level },
    }),
    typical: known(s.atMeanParameters, unit, {}),
    animals: { lower: known(s.quantiles[0], unit, {}), upper: known(s.quantiles[1], unit, {}) },
  });
  const [over, ...rest] = averaged.sums;
  const beyond = at.filter((age) => age < value.ages.from || age > value.ages.to);
  const notices: Notice[] = [];
  if (averaged.outside > 0.001) {
    const parameters = { share: averaged.outside, curve: curve.title };
    notices.push(notice("cohort-average-outside", "caution", parameters));
  }
  if (beyond.length > 0) {
    const { from: first, to: last } = value.ages;
    const parameters = { ages: beyond, from: first, to: last, unit: units.age };
    notices.push(notice("cohort-beyond-ages", "caution", parameters));
  }
  return {
    kind: "cohort-mean-curve",
    schema: 1,
    value: {
      band,
      ages: at.map((age, i) => ({
        age,
        mass: as(rest[2 * i]!, units.mass),
        gain: as(rest[2 * i + 1]!, gainUnit),
        withinCohortAges: !beyond.includes(age),
      })),
      gainOver: { from, to, gain: as(over!, gainUnit) },
    },
    method: {
      name: "mean over the fitted distribution of animals, Gauss-Hermite quadrature; centiles of animals by seeded draws",
      options: {
        at: [...at],
        from,
        to,
        level,
        band: [...band],
        draws,
        seed,
        covariates: options.covariates ?? "as in the cohort",
      },
      citations: [
        "Zeger SL, Liang K-Y, Albert PS (1988) Biometrics 44:1049-1060",
        "Lindsey JK, Lambert P (1998) Stat Med 17:447-469",
        ...fit.method.citations,
      ],
    },
    basis: { used: animals.length, leftOut: [], of: "animals" },
    diagnostics: { df: averaged.df, outsideDomain: averaged.outside },
    notices,
  };
}
