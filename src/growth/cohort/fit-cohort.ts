import { type Notice, notice } from "../../core/notice.js";
import {
  fitNonlinearMixed,
  type NonlinearMixedFit,
} from "../../stats/nonlinear-mixed/fit-nonlinear-mixed.js";
import { maximiseMarginal } from "../../stats/nonlinear-mixed/marginal.js";
import type { MeanFunction } from "../../stats/nonlinear-mixed/model.js";
import { type CurveName, curveByName } from "../curve-catalogue.js";
import { saidLeftOut } from "../fit-preparation.js";
import type { GrowthCurve } from "../growth-curve.js";
import { startSeries } from "../start-series.js";
import type { AnimalHistory } from "./animal-history.js";
import type { CohortFit, CohortFitValue, CohortModel } from "./cohort-fit.js";
import { cohortMixedData } from "./cohort-mixed-data.js";
import { emptyValue, fullValue } from "./describe-cohort.js";
import { neighbourResiduals } from "./neighbour-residuals.js";
import { prepareCohort, requireParameter } from "./prepare-cohort.js";
import { affordableModels, animalsNeeded, fewestAnimals } from "./simplify-cohort.js";

export interface FitCohortOptions {
  readonly curve: CurveName | GrowthCurve;
  /** Parameters that differ between animals. Default: the final mass (or first mass) and the age or rate. */
  readonly random?: readonly string[];
  /** Differences between animals correlate ("general", default) or not ("diagonal"). */
  readonly covariance?: "general" | "diagonal";
  /** Covariates acting on a parameter: `{ A: ["season", "sex"] }`. */
  readonly covariates?: Readonly<Record<string, readonly string[]>>;
  /** Scatter of readings: the same everywhere (default), or a power of the mass. */
  readonly variance?: "constant" | "power";
  /** Residuals of neighbouring ages hang together (continuous-time AR(1)). Default false. */
  readonly serial?: boolean;
  /** Parameters kept positive: effects act on their logarithm. */
  readonly logScale?: readonly string[];
  /** Default "REML". */
  readonly method?: "ML" | "REML";
  /**
   * Integrates over the differences between animals instead of linearising: number
   * of quadrature points for each, 1 for the Laplace approximation. Maximum
   * likelihood; slower. Default: linearised.
   */
  readonly quadrature?: number;
  /** Take a simpler model where the animals are too few or the fit fails. Default true. */
  readonly simplify?: boolean;
  readonly origin?: number;
  readonly ageUnit?: string;
  readonly massUnit?: string;
}

/**
 * Fits one growth curve to all animals of a cohort at once: a typical curve,
 * how far animals differ from it, and each animal's own curve, drawn towards the
 * typical one the more the less it was weighed (a nonlinear mixed model).
 *
 * Works with irregular ages and few weighings per animal. With too few animals
 * for the model asked for, the fullest model they can carry is taken and a notice
 * says so; below three animals nothing is fitted. Rows without a usable age or
 * mass, and animals without a covariate of the model, are left out and counted.
 *
 * Source: Lindstrom and Bates (1990) Biometrics 46:673-687; Pinheiro and Bates
 * (2000) Mixed-Effects Models in S and S-PLUS.
 *
 * @throws UsageError for an unknown curve or parameter.
 * @example fitCohort(histories, { curve: "logistic", random: ["A", "Ti"] }).value.parameters[0].typical
 */
export function fitCohort(
  histories: readonly AnimalHistory[],
  options: FitCohortOptions,
): CohortFit {
  const curve = curveByName(options.curve);
  const asked = resolveModel(curve, options);
  const prepared = prepareCohort(histories, curve, options);
  const { animals, leftOut, rows, covariates } = prepared;
  const origin = options.origin ?? 0;
  const ages = animals.flatMap((a) => a.ages);
  const constants = curve.constants?.(ages.map((a) => a - origin)) ?? [];
  const mean: MeanFunction = (x, phi, out, at) => curve.gradient(x, phi, out, at, constants);
  const { fit, model } = fullestThatHolds(prepared, curve, asked, mean, constants, options);
  const notices: Notice[] = [
    ...saidLeftOut(leftOut),
    ...saidOfModel(animals.length, asked, model, fit),
    ...(fit?.notices ?? []).map((n) => withCurve(n, curve)),
  ];
  const shared = {
    curve: curve.name,
    equation: curve.equation,
    units: { age: options.ageUnit ?? "d", mass: options.massUnit ?? "g" },
    origin,
    constants,
    ages:
      animals.length === 0
        ? { from: 0, to: 0 }
        : { from: Math.min(...ages), to: Math.max(...ages, 0) },
    covariates,
  };
  const value: CohortFitValue =
    fit === null || model === null || fit.status !== "converged"
      ? emptyValue(shared, animals, fit, model, notices)
      : fullValue(shared, animals, fit, model, curve, mean, options);
  notices.push(...saidOfNeighbours(value, curve));
  return {
    kind: "fit-cohort",
    schema: 1,
    value,
    method: methodOf(curve, asked, model, options),
    basis: { used: rows, leftOut, of: "weighings" },
    diagnostics: {
      animals: animals.length,
      iterations: fit?.iterations ?? 0,
      change: finiteOrNull(fit?.change),
      slope: finiteOrNull(fit?.slope),
      singular: fit?.singular ?? null,
    },
    notices,
  };
}

/** Tries the models that these animals can carry, the fullest first; the first that converges, else the first. */
function fullestThatHolds(
  prepared: ReturnType<typeof prepareCohort>,
  curve: GrowthCurve,
  asked: CohortModel,
  mean: MeanFunction,
  constants: readonly number[],
  options: FitCohortOptions,
): { readonly fit: NonlinearMixedFit | null; readonly model: CohortModel | null } {
  const { animals, covariates } = prepared;
  const { quadrature, origin = 0 } = options;
  let first: { fit: NonlinearMixedFit; model: CohortModel } | null = null;
  for (const model of candidatesFor(asked, animals.length, options.simplify ?? true)) {
    const data = cohortMixedData({
      animals,
      covariates,
      actingOn: options.covariates ?? {},
      curve,
      model,
      logScale: options.logScale ?? [],
      mean,
      origin,
    });
    const linearised = fitNonlinearMixed(data, {
      method: quadrature === undefined ? (options.method ?? "REML") : "ML",
      starts: curve.starts(pooledSeries(animals, origin), constants),
    });
    const fit =
      quadrature === undefined || linearised.status !== "converged"
        ? linearised
        : maximiseMarginal(linearised, { nodes: quadrature });
    if (fit.status === "converged") return { fit, model };
    first ??= { fit, model };
  }
  return first ?? { fit: null, model: null };
}

function candidatesFor(asked: CohortModel, animals: number, simplify: boolean): CohortModel[] {
  if (simplify) return affordableModels(asked, animals);
  return animals >= fewestAnimals ? [asked] : [];
}

/** Too few animals, or a simpler model than the one asked for. */
function saidOfModel(
  animals: number,
  asked: CohortModel,
  model: CohortModel | null,
  fit: NonlinearMixedFit | null,
): Notice[] {
  if (animals < fewestAnimals) {
    return [notice("cohort-too-few-animals", "problem", { animals, needed: fewestAnimals })];
  }
  if (model === null || model === asked || fit?.status !== "converged") return [];
  const few = animals < animalsNeeded(asked);
  return [
    notice(few ? "cohort-simplified-few-animals" : "cohort-simplified-no-fit", "caution", {
      animals,
      needed: animalsNeeded(asked),
      asked: wordsFor(asked),
      taken: wordsFor(model),
    }),
  ];
}

/** Neighbouring residuals that hang together where the model says that they do not. */
function saidOfNeighbours(value: CohortFitValue, curve: GrowthCurve): Notice[] {
  if (!value.converged || value.serialCorrelation !== null) return [];
  const { correlation, pairs } = neighbourResiduals(value);
  if (!(correlation > 0.15 && correlation * Math.sqrt(pairs) > 3)) return [];
  const about = { curve: curve.title, correlation, pairs };
  return [notice("cohort-residuals-hang-together", "caution", about)];
}

function methodOf(
  curve: GrowthCurve,
  asked: CohortModel,
  model: CohortModel | null,
  options: FitCohortOptions,
): CohortFit["method"] {
  const linearised = options.quadrature === undefined;
  return {
    name: linearised
      ? "nonlinear mixed model, linearised likelihood"
      : "nonlinear mixed model, likelihood by adaptive Gauss-Hermite quadrature",
    options: {
      curve: curve.name,
      method: linearised ? (options.method ?? "REML") : "ML",
      quadrature: options.quadrature ?? null,
      asked: { ...asked },
      taken: model === null ? null : { ...model },
      covariates: options.covariates ?? {},
      logScale: options.logScale ?? [],
      origin: options.origin ?? 0,
      simplify: options.simplify ?? true,
    },
    citations: [
      "Lindstrom MJ, Bates DM (1990) Biometrics 46:673-687",
      "Pinheiro JC, Bates DM (2000) Mixed-Effects Models in S and S-PLUS, Springer",
      ...curve.citations,
    ],
  };
}

const finiteOrNull = (v: number | undefined) => (v === undefined || !Number.isFinite(v) ? null : v);

function resolveModel(curve: GrowthCurve, options: FitCohortOptions): CohortModel {
  const random = options.random ?? defaultRandom(curve);
  for (const name of [...random, ...(options.logScale ?? [])])
    requireParameter(curve, name, "random or logScale");
  return {
    random,
    covariance: options.covariance ?? "general",
    variance: options.variance ?? "constant",
    serial: options.serial ?? false,
  };
}

/** The final mass (or the first mass) and, where there is one, the age, else the rate. */
export function defaultRandom(curve: GrowthCurve): string[] {
  const { parameters } = curve;
  const mass =
    curve.asymptote !== undefined
      ? parameters[curve.asymptote]!
      : (parameters.find((p) => p.kind === "mass") ?? parameters[0]!);
  const time =
    parameters.find((p) => p.kind === "age") ??
    parameters.find((p) => (p.kind === "rate" || p.kind === "gain") && p !== mass);
  return time === undefined ? [mass.name] : [mass.name, time.name];
}

function pooledSeries(animals: readonly AnimalHistory[], origin: number) {
  const rows = animals
    .flatMap((a) => a.ages.map((age, i) => ({ t: age - origin, w: a.masses[i]! })))
    .sort((a, b) => a.t - b.t);
  return startSeries(
    rows.map((r) => r.t),
    rows.map((r) => r.w),
  );
}

function wordsFor(model: CohortModel): string {
  const parts = [
    `animals differ in ${model.random.join(" and ")}`,
    ...(model.random.length > 1
      ? [
          model.covariance === "general"
            ? "these differences correlate"
            : "independently of each other",
        ]
      : []),
    ...(model.variance === "power" ? ["scatter grows with mass"] : []),
    ...(model.serial ? ["neighbouring residuals hang together"] : []),
  ];
  return parts.join(", ");
}

function withCurve(n: Notice, curve: GrowthCurve): Notice {
  return { ...n, parameters: { ...n.parameters, curve: curve.title } };
}
