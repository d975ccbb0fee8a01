import { UsageError } from "../../core/usage-error.js";
import { makeMatrix } from "../linear-algebra/matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";
import { hessianByDifferences } from "../numeric/minimise-smooth.js";
import type { NonlinearMixedFit } from "./fit.js";

/**
 * What a fitted nonlinear mixed model knows of an individual it has not seen:
 * plain numbers, so that it can be stored and used without the data.
 */
export interface IndividualPrior {
  readonly parameters: readonly string[];
  /** 1 where a parameter lives on a log scale. */
  readonly logScale: readonly number[];
  /** Expected parameters of an individual with these covariates (log where so marked). */
  readonly mean: readonly number[];
  /** Covariance of the population's mean parameters: how well the groups told them. */
  readonly meanCovariance: readonly (readonly number[])[];
  /** Covariance between individuals. */
  readonly between: readonly (readonly number[])[];
  readonly sigma: number;
  readonly power: number | null;
  /** Correlation of residuals one unit of x apart. */
  readonly phi: number | null;
  readonly groups: number;
  /**
   * How the above move with each (independent, standardised) variance parameter,
   * one standard error up and down: for degrees of freedom and the uncertainty of
   * shrinkage.
   */
  readonly moved: readonly {
    readonly up: { readonly between: readonly (readonly number[])[]; readonly sigma: number };
    readonly down: { readonly between: readonly (readonly number[])[]; readonly sigma: number };
  }[];
}

/** A fitted population as plain numbers: the prior of any individual follows from it. */
export interface PopulationModel {
  readonly parameters: readonly string[];
  readonly logScale: readonly number[];
  readonly fixed: readonly {
    /** Position of the parameter it acts on. */
    readonly parameter: number;
    /** Covariate, or null for the basic value. */
    readonly covariate: string | null;
    readonly estimate: number;
  }[];
  readonly fixedCovariance: readonly (readonly number[])[];
  readonly between: readonly (readonly number[])[];
  readonly sigma: number;
  readonly power: number | null;
  readonly phi: number | null;
  readonly groups: number;
  readonly moved: IndividualPrior["moved"];
}

/**
 * The prior of a new individual.
 *
 * @param covariates value of each covariate by name ("diet2": 1); all of them, where there are any
 * @throws UsageError when a covariate is missing.
 * @example
 * const mean = (x, phi, out, at) => ((out[at] = x), phi[0] * x);
 * const x = [1, 2, 3, 1, 2, 3, 1, 2, 3], group = [1, 1, 1, 2, 2, 2, 3, 3, 3];
 * const response = [2, 4.1, 6, 2.5, 5, 7.4, 1.6, 3, 4.4];
 * const data = { x, response, group, mean, parameters: ["rate"], random: ["rate"] };
 * const fit = fitNonlinearMixed(data, { starts: [[2]] });
 * individualPrior(populationModel(fit)).groups // 3
 */
export function individualPrior(
  population: PopulationModel,
  covariates: Readonly<Record<string, number>> = {},
): IndividualPrior {
  const k = population.parameters.length;
  const mean = new Array<number>(k).fill(0);
  const meanCovariance = square(k);
  const weight = population.fixed.map((f) => {
    if (f.covariate === null) return 1;
    const value = covariates[f.covariate];
    if (value !== undefined) return value;
    throw new UsageError({
      needed: `a value of ${f.covariate}`,
      came: "none was given",
      where: "individualPrior",
      todo: "Give every covariate of the model for the new individual.",
    });
  });
  population.fixed.forEach((f, c) => {
    mean[f.parameter]! += weight[c]! * f.estimate;
    population.fixed.forEach((g, d) => {
      meanCovariance[f.parameter]![g.parameter]! +=
        weight[c]! * weight[d]! * population.fixedCovariance[c]![d]!;
    });
  });
  const { parameters, logScale, between, sigma, power, phi, groups, moved } = population;
  return { parameters, logScale, mean, meanCovariance, between, sigma, power, phi, groups, moved };
}

/**
 * What a fit tells of the population: enough to meet a new individual, and nothing of those fitted.
 *
 * @throws UsageError when the fit did not converge.
 * @example
 * const mean = (x, phi, out, at) => ((out[at] = x), phi[0] * x);
 * const x = [1, 2, 3, 1, 2, 3, 1, 2, 3], group = [1, 1, 1, 2, 2, 2, 3, 3, 3];
 * const response = [2, 4.1, 6, 2.5, 5, 7.4, 1.6, 3, 4.4];
 * const data = { x, response, group, mean, parameters: ["rate"], random: ["rate"] };
 * const fit = fitNonlinearMixed(data, { starts: [[2]] });
 * populationModel(fit).fixed[0].estimate // 1.99286
 */
export function populationModel(fit: NonlinearMixedFit): PopulationModel {
  if (fit.status !== "converged") {
    throw new UsageError({
      needed: "a fit that converged",
      came: `its status is "${fit.status}"`,
      where: "populationModel",
      todo: "Read the fit's notices; a simpler model may converge.",
    });
  }
  const { model, objective } = fit.engine;
  const { k, q, fixedOf, fixedNames, random, parameters, logScale } = model;
  const spread = (psi: readonly (readonly number[])[]) => {
    const out = square(k);
    for (let i = 0; i < q; i++)
      for (let j = 0; j < q; j++) out[random[i]!]![random[j]!]! += psi[i]![j]!;
    return out;
  };
  const between = spread(fit.random.covariance);
  const reported = fit.sigma / fit.workingSigma;
  const moved = variancePerturbations(fit).map((pair) => {
    const at = (v: Float64Array) => {
      const size = v.length - 1;
      objective.setFactors(v.subarray(0, size) as Float64Array);
      const sigma = Math.exp(v[size]! / 2);
      const l = objective.factors[0]!;
      const psi = square(q);
      for (let i = 0; i < q; i++)
        for (let j = 0; j < q; j++) {
          for (let r = 0; r < q; r++) psi[i]![j]! += l[i * q + r]! * l[j * q + r]!;
          psi[i]![j]! *= sigma * sigma * fit.scale[i]! * fit.scale[j]!;
        }
      return { between: spread(psi), sigma: sigma * reported };
    };
    return { up: at(pair.up), down: at(pair.down) };
  });
  objective.setFactors(Float64Array.from(fit.theta));
  return {
    parameters,
    logScale: Array.from(logScale),
    fixed: fixedNames.map((name, c) => {
      const parameter = parameters[fixedOf[c]!]!;
      const basic = name === parameter || name === `${parameter}.(Intercept)`;
      return {
        parameter: fixedOf[c]!,
        covariate: basic ? null : name.slice(parameter.length + 1),
        estimate: fit.fixed.estimates[c]!,
      };
    }),
    fixedCovariance: fit.fixed.covariance,
    between,
    sigma: fit.sigma,
    power: fit.residual?.power ?? null,
    phi: fit.residual?.phi ?? null,
    groups: fit.groups,
    moved,
  };
}

const square = (n: number): number[][] =>
  Array.from({ length: n }, () => new Array<number>(n).fill(0));

/**
 * Steps of one standard error along the independent directions of the variance
 * parameters (theta, log sigma^2), from the curvature of the linearised
 * likelihood. Residual parameters (power, phi) are held.
 */
function variancePerturbations(fit: NonlinearMixedFit): { up: Float64Array; down: Float64Array }[] {
  const { objective, profile } = fit.engine;
  const count = objective.thetaCount;
  const p = fit.fixed.names.length;
  const df = fit.method === "ML" ? fit.n : fit.n - p;
  const whole = Float64Array.from(fit.theta);
  const gradient = new Float64Array(whole.length);
  const x = whole.slice(0, count);
  const profiled = hessianByDifferences((at, g) => {
    whole.set(at);
    const value = objective.deviance(whole, fit.method, gradient);
    g.set(gradient.subarray(0, count));
    return value;
  }, x);
  const logRss = new Float64Array(count);
  for (let j = 0; j < count; j++) {
    const h = 1e-4 * Math.max(0.1, Math.abs(x[j]!));
    const at = (shift: number) => {
      whole.set(x);
      whole[j] = x[j]! + shift * h;
      objective.deviance(whole, fit.method, null);
      return Math.log(profile.rss);
    };
    logRss[j] = (at(1) - at(-1)) / (2 * h);
  }
  whole.set(x);
  objective.deviance(whole, fit.method, null);
  const size = count + 1;
  const h = makeMatrix(size, size);
  for (let i = 0; i < count; i++) {
    for (let j = 0; j < count; j++)
      h.data[i * size + j] = profiled[i * count + j]! + df * logRss[i]! * logRss[j]!;
    h.data[i * size + count] = -df * logRss[i]!;
    h.data[count * size + i] = -df * logRss[i]!;
  }
  h.data[count * size + count] = df;
  const { values, vectors } = symmetricEigen(h);
  const centre = new Float64Array(size);
  centre.set(x);
  centre[count] = 2 * Math.log(fit.workingSigma);
  const out: { up: Float64Array; down: Float64Array }[] = [];
  for (let e = 0; e < size; e++) {
    // Covariance 2 H^-1: the step along this direction is sqrt(2 / eigenvalue). A flat
    // direction (a variance at zero) is given the size of the parameters themselves.
    const largest = values[0]!;
    const step = values[e]! > 1e-8 * largest ? Math.sqrt(2 / values[e]!) : 0;
    if (step === 0) continue;
    const move = (sign: number) =>
      Float64Array.from(centre, (v, i) => v + sign * step * vectors.data[i * size + e]!);
    out.push({ up: move(1), down: move(-1) });
  }
  return out;
}
