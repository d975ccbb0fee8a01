import type { ErrorsInVariablesData } from "./errors-in-variables-data.js";
import { momentShare, solveMoments } from "./errors-in-variables-moments.js";
import { fitLinearMixed, type LinearMixedFit } from "./fit-linear-mixed.js";

export interface ErrorsInVariablesRegression {
  readonly status: LinearMixedFit["status"] | "too noisy";
  readonly estimates: readonly number[];
  /** By leaving out one group at a time. */
  readonly covariance: readonly (readonly number[])[];
  /** Groups - 1. */
  readonly df: number;
  /**
   * Share of the scatter of the noisy column, beside the other columns and
   * within groups, that is not error.
   */
  readonly reliability: number;
  /** Spread of the coefficient between groups, and of a row about its expectation. */
  readonly groupSd: number;
  readonly residualSd: number;
  readonly effects: ReadonlyMap<string, number>;
}

/**
 * Regression with one column measured with error of known variance and one
 * coefficient that varies between groups. The error adds its variance to the
 * cross-products of the noisy column and pulls the coefficient towards zero;
 * here it is subtracted again (generalised least squares with corrected
 * moments). Only the sum of the error variances enters, so estimates of them
 * serve, however rough each is. Standard errors are those of the jackknife over
 * groups and so carry the uncertainty of the correction.
 *
 * Source: Fuller (1987), Measurement Error Models, sections 2.2 and 3.1; the
 * jackknife: Efron and Tibshirani (1993), chapter 11.
 *
 * "too noisy": nothing of the column's scatter is left when the error is taken out.
 *
 * @example errorsInVariablesRegression({ response, names: ["size", "rate"], columns: [size, rate], noisy: 1, errorVariance, group, random: size })
 */
export function errorsInVariablesRegression(
  data: ErrorsInVariablesData,
): ErrorsInVariablesRegression {
  const { columns, noisy, names, group, response } = data;
  const others = columns.map((_, j) => j).filter((j) => j !== noisy);
  const fit = (y: readonly number[], of: readonly number[]) =>
    fitLinearMixed({
      response: y,
      fixed: { names: of.map((j) => names[j]!), columns: of.map((j) => columns[j]!) },
      levels: [{ name: "group", group, names: ["random"], columns: [data.random] }],
    });
  let mixed = fit(response, [...columns.keys()]);
  let found: Corrected | null = null;
  let settled = false;
  for (let round = 0; round < 20 && mixed.status === "converged" && !settled; round++) {
    const next = correct(data, (mixed.random[0]?.sd[0] ?? 0) ** 2, mixed.sigma ** 2);
    if (next === null) return nothing("too noisy");
    const slope = next.estimates[noisy]!;
    settled = found !== null && Math.abs(slope - found.estimates[noisy]!) <= 1e-8 * Math.abs(slope);
    found = next;
    const rest = response.map((y, i) => y - slope * columns[noisy]![i]!);
    mixed = fit(rest, others);
  }
  if (found === null || mixed.status === "failed") return nothing(mixed.status);
  const slope = found.estimates[noisy]!;
  const error = data.errorVariance.reduce((s, v) => s + v, 0) / response.length;
  const random = mixed.random[0];
  return {
    ...found,
    status: settled ? mixed.status : "not converged",
    groupSd: random?.sd[0] ?? 0,
    residualSd: Math.sqrt(Math.max(0, mixed.sigma ** 2 - slope ** 2 * error)),
    effects: new Map(
      (random?.groups ?? []).map((g, i) => [String(g), random?.effects[i]?.[0] ?? 0] as const),
    ),
  };
}

type Corrected = Pick<
  ErrorsInVariablesRegression,
  "estimates" | "covariance" | "df" | "reliability"
>;

/** Corrected generalised least squares with given variances; null when nothing is left. */
function correct(data: ErrorsInVariablesData, tau2: number, sigma2: number): Corrected | null {
  const p = data.columns.length;
  const shares = [...new Set(data.group)].map((g) => momentShare(data, g, tau2, sigma2));
  const whole = solveMoments(shares, data.noisy, p);
  if (whole === null) return null;
  const left = shares.map((_, i) =>
    solveMoments(
      shares.filter((__, k) => k !== i),
      data.noisy,
      p,
    ),
  );
  // A group without which nothing is left carries everything: no standard error.
  const each = left.map((l) => l?.estimates ?? null);
  const n = shares.length;
  const mean = whole.estimates.map((_, j) => each.reduce((s, e) => s + (e?.[j] ?? NaN), 0) / n);
  const covariance = mean.map((_, j) =>
    mean.map(
      (__, k) =>
        ((n - 1) / n) *
        each.reduce((s, e) => s + ((e?.[j] ?? NaN) - mean[j]!) * ((e?.[k] ?? NaN) - mean[k]!), 0),
    ),
  );
  if (!covariance.flat().every(Number.isFinite)) return null;
  return { ...whole, covariance, df: n - 1 };
}

function nothing(status: ErrorsInVariablesRegression["status"]): ErrorsInVariablesRegression {
  return {
    status,
    estimates: [],
    covariance: [],
    df: 0,
    reliability: 0,
    groupSd: 0,
    residualSd: 0,
    effects: new Map(),
  };
}
