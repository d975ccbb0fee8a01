import type { Measured } from "../../core/measured.js";
import type { Result } from "../../core/result.js";
import type { PopulationModel } from "../../stats/nonlinear-mixed/prior.js";
import type { ParameterKind } from "../growth-curve.js";

/** How the model was set up, after defaults and simplification. */
export interface CohortModel {
  readonly random: readonly string[];
  readonly covariance: "general" | "diagonal";
  readonly variance: "constant" | "power";
  readonly serial: boolean;
}

/** How a covariate becomes numbers: indicator columns, or a number counted from its mean. */
export type CohortCovariate =
  | { readonly name: string; readonly kind: "factor"; readonly levels: readonly string[] }
  | { readonly name: string; readonly kind: "number"; readonly centre: number };

export interface CohortParameter {
  readonly name: string;
  readonly meaning: string;
  readonly kind: ParameterKind;
  /** Of a typical animal (baseline levels, mean of numeric covariates). */
  readonly typical: Measured;
  /** Standard deviation between animals; null where the model has none. On the log scale when `logScale`. */
  readonly between: Measured | null;
  readonly logScale: boolean;
  readonly effects: readonly {
    readonly covariate: string;
    readonly level: string | null;
    readonly effect: Measured;
  }[];
}

export interface CohortAnimal {
  readonly animal: string;
  readonly ages: readonly number[];
  readonly masses: readonly number[];
  readonly fitted: readonly number[];
  /** Its own parameters, drawn towards the cohort as far as its weighings leave room. */
  readonly parameters: readonly Measured[];
  readonly covariates: Readonly<Record<string, string | number>>;
}

export type CohortStatus =
  | "converged"
  | "too-few-animals"
  | "no-start"
  | "effects-not-settled"
  | "variances-not-settled"
  | "not-identified"
  | "outside-domain";

export interface CohortFitValue {
  readonly curve: string;
  readonly equation: string;
  readonly status: CohortStatus;
  readonly converged: boolean;
  readonly model: CohortModel | null;
  readonly units: { readonly age: string; readonly mass: string };
  /** Age that counts as zero in the curve, and the curve's fixed numbers. */
  readonly origin: number;
  readonly constants: readonly number[];
  /** Ages the cohort was weighed at. */
  readonly ages: { readonly from: number; readonly to: number };
  readonly parameters: readonly CohortParameter[];
  /** Correlation of the differences between animals, in the order of `model.random`. */
  readonly correlation: readonly (readonly (number | null)[])[] | null;
  /** Scatter of a reading about its animal's curve; times mass^power where there is a power. */
  readonly residualSd: Measured;
  readonly power: number | null;
  /** Correlation of two residuals of one animal one unit of age apart. */
  readonly serialCorrelation: number | null;
  readonly logLikelihood: number | null;
  readonly aic: number | null;
  readonly bic: number | null;
  readonly animals: readonly CohortAnimal[];
  readonly covariates: readonly CohortCovariate[];
  /** Everything a prediction for an animal needs, as plain numbers. */
  readonly population: PopulationModel | null;
}

export type CohortFit = Result<"fit-cohort", CohortFitValue>;
