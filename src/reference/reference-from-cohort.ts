import type { Result } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import type { CohortFit } from "../growth/cohort/cohort-fit.js";
import { cohortMeanCurve } from "../growth/cohort/cohort-mean-curve.js";
import { normalQuantile } from "../stats/distributions/normal.js";
import type { Lms } from "../stats/lms/lms-z.js";
import { findRoot } from "../stats/numeric/find-root.js";
import { makeReferenceTable, type ReferenceTable } from "./reference-table.js";

export interface CohortReferenceOptions {
  readonly title?: string;
  /** Where the animals come from, for the page: "own seasons 2021 to 2024". */
  readonly source?: string;
  /** Reference of animals of this kind only. Default: the mix of kinds in the cohort. */
  readonly covariates?: Readonly<Record<string, string | number>>;
  /** Animals drawn for the centiles. Default 4000. */
  readonly draws?: number;
  /** Default 1. */
  readonly seed?: number;
}

/** Centiles from which spread and skewness are taken. */
const tail = 0.05;

/**
 * A mass-for-age reference from the cohort model of own past seasons: at every
 * whole day of age that the cohort covers, the median of the fitted distribution
 * of animals and its 5th and 95th centile, written as Box-Cox power, median and
 * coefficient of variation. Where few animals were weighed at an age it leans on
 * the curve and on the other ages, which a reference built age by age cannot; it
 * is only as good as that curve. True masses, without the scatter of a scale.
 * Nothing is given outside the cohort's ages.
 *
 * Ages in days, masses in the cohort's unit. Method of three centiles for L, M
 * and S: exact for a Box-Cox normal distribution.
 *
 * @throws UsageError when the fit did not converge or its ages are not in days.
 * @example referenceFromCohort(fit).value.rows[0] // { ageD: 3, l: 0.2, m: 1893, s: 0.11 }
 */
export function referenceFromCohort(
  fit: CohortFit,
  options: CohortReferenceOptions = {},
): Result<"reference-from-cohort", ReferenceTable> {
  const { ages, units, animals } = fit.value;
  if (units.age !== "d") {
    throw new UsageError({
      needed: "a cohort whose ages are in days",
      came: `ages in "${units.age}"`,
      where: "referenceFromCohort",
      todo: "Fit the cohort on ages in days.",
    });
  }
  const first = Math.ceil(ages.from);
  const at = Array.from(
    { length: Math.max(0, Math.floor(ages.to) - first + 1) },
    (_, i) => first + i,
  );
  const { draws = 4000, seed = 1, covariates } = options;
  const drawn = { at, draws, seed, ...(covariates === undefined ? {} : { covariates }) };
  const outer = cohortMeanCurve(fit, { ...drawn, band: [tail, 1 - tail] });
  const inner = cohortMeanCurve(fit, { ...drawn, band: [0.5, 0.75] });
  const rows = at.map((ageD, i) => {
    const { lower, upper } = outer.value.ages[i]!.mass.animals;
    const median = inner.value.ages[i]!.mass.animals.lower.value;
    return { ageD, ...lmsOfCentiles(lower.value, median, upper.value) };
  });
  const table = makeReferenceTable({
    title: options.title ?? "Own seasons, by the cohort model",
    source: options.source ?? `cohort model, ${fit.value.curve}`,
    unit: units.mass,
    animals: animals.length,
    rows,
  });
  return {
    kind: "reference-from-cohort",
    schema: 1,
    value: table,
    method: {
      name: "centiles of the fitted distribution of animals, as Box-Cox power, median and coefficient of variation",
      options: { curve: fit.value.curve, draws, seed, centiles: [tail, 0.5, 1 - tail] },
      citations: ["Cole and Green (1992) Stat Med 11:1305-1319"],
    },
    basis: { used: animals.length, leftOut: [], of: "animals" },
    diagnostics: {},
    notices: outer.notices,
  };
}

/**
 * L, M and S of the Box-Cox normal distribution with these 5th, 50th and 95th
 * centiles: (u/M)^L + (l/M)^L = 2 fixes L, and the upper centile S.
 */
function lmsOfCentiles(lower: number | null, median: number | null, upper: number | null): Lms {
  if (lower === null || median === null || upper === null || !(lower > 0 && median > lower)) {
    return { l: Number.NaN, m: Number.NaN, s: Number.NaN };
  }
  const low = Math.log(lower / median);
  const high = Math.log(upper / median);
  const balance = (l: number) =>
    Math.abs(l) < 1e-9 ? high + low : (Math.expm1(l * high) + Math.expm1(l * low)) / l;
  const { x: l } = findRoot(balance, -20, 20);
  const z = normalQuantile(1 - tail);
  return { l, m: median, s: Math.abs(l) < 1e-9 ? high / z : Math.expm1(l * high) / (l * z) };
}
