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
  const notices: Notice[] = [];
  const prepared = prepareCohort(histories, curve, options);
  const { animals, leftOut, rows } = prepared;
  notices.push(...saidLeftOut(leftOut));
  const units = { age: options.ageUnit ?? "d", mass: options.massUnit ?? "g" };
  const origin = options.origin ?? 0;
  const ages = animals.flatMap((a) => a.ages);
  const constants = curve.constants?.(ages.map((a) => a - origin)) ?? [];
  const simplify = options.simplify ?? true;
  const candidates = simplify
    ? affordableModels(asked, animals.length)
    : animals.length >= fewestAnimals
      ? [asked]
      : [];
  const mean: MeanFunction = (x, phi, out, at) => curve.gradient(x, phi, out, at, constants);

  let fit: NonlinearMixedFit | null = null;
  let model: CohortModel | null = null;
  for (const candidate of candidates) {
    const data = cohortMixedData({
      animals,
      covariates: prepared.covariates,
      actingOn: options.covariates ?? {},
      curve,
      model: candidate,
      logScale: options.logScale ?? [],
      mean,
      origin,
    });
    const linearised = fitNonlinearMixed(data, {
      method: options.quadrature === undefined ? (options.method ?? "REML") : "ML",
      starts: curve.starts(pooledSeries(animals, origin), constants),
    });
    const tried =
      options.quadrature === undefined || linearised.status !== "converged"
        ? linearised
        : maximiseMarginal(linearised, { nodes: options.quadrature });
    if (fit === null || tried.status === "converged") {
      fit = tried;
      model = candidate;
    }
    if (tried.status === "converged") break;
  }
  if (animals.length < fewestAnimals) {
    notices.push(
      notice("cohort-too-few-animals", "problem", {
        animals: animals.length,
        needed: fewestAnimals,
      }),
    );
  } else if (model !== null && model !== asked && fit!.status === "converged") {
    const few = animals.length < animalsNeeded(asked);
    notices.push(
      notice(few ? "cohort-simplified-few-animals" : "cohort-simplified-no-fit", "caution", {
        animals: animals.length,
        needed: animalsNeeded(asked),
        asked: wordsFor(asked),
        taken: wordsFor(model),
      }),
    );
  }
  if (fit !== null) notices.push(...fit.notices.map((n) => withCurve(n, curve)));
  const shared = {
    curve: curve.name,
    equation: curve.equation,
    units,
    origin,
    constants,
    ages: { from: Math.min(...ages, Number.POSITIVE_INFINITY), to: Math.max(...ages, 0) },
    covariates: prepared.covariates,
  };
  const value: CohortFitValue =
    fit === null || model === null || fit.status !== "converged"
      ? emptyValue(shared, animals, fit, model, notices)
      : fullValue(shared, animals, fit, model, curve, mean, options);
  if (value.converged && value.serialCorrelation === null) {
    const { correlation, pairs } = neighbourResiduals(value);
    if (correlation > 0.15 && correlation * Math.sqrt(pairs) > 3) {
      notices.push(
        notice("cohort-residuals-hang-together", "caution", {
          curve: curve.title,
          correlation,
          pairs,
        }),
      );
    }
  }
  return {
    kind: "fit-cohort",
    schema: 1,
    value: {
      ...value,
      ages: animals.length === 0 ? { from: 0, to: 0 } : shared.ages,
    },
    method: {
      name:
        options.quadrature === undefined
          ? "nonlinear mixed model, linearised likelihood"
          : "nonlinear mixed model, likelihood by adaptive Gauss-Hermite quadrature",
      options: {
        curve: curve.name,
        method: options.quadrature === undefined ? (options.method ?? "REML") : "ML",
        quadrature: options.quadrature ?? null,
        asked: { ...asked },
        taken: model === null ? null : { ...model },
        covariates: options.covariates ?? {},
        logScale: options.logScale ?? [],
        origin,
        simplify,
      },
      citations: [
        "Lindstrom MJ, Bates DM (1990) Biometrics 46:673-687",
        "Pinheiro JC, Bates DM (2000) Mixed-Effects Models in S and S-PLUS, Springer",
        ...curve.citations,
      ],
    },
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
