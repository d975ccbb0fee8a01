import { type Measured, measured, notDefined } from "../../core/measured.js";
import { type Notice, notice } from "../../core/notice.js";
import type { LeftOut } from "../../core/result.js";
import { UsageError } from "../../core/usage-error.js";
import { fitNonlinearMixed, type NonlinearMixedFit } from "../../stats/nonlinear-mixed.js";
import { makeIndividual } from "../../stats/nonlinear-mixed-individual.js";
import type { MeanFunction } from "../../stats/nonlinear-mixed-model.js";
import { individualPrior, populationModel } from "../../stats/nonlinear-mixed-prior.js";
import { type CurveName, curveByName } from "../curve-catalogue.js";
import { type GrowthCurve, parameterUnit } from "../growth-curve.js";
import { startSeries } from "../start-series.js";
import type { AnimalHistory } from "./animal-history.js";
import { columnValues, describeCovariates } from "./cohort-columns.js";
import type {
  CohortAnimal,
  CohortCovariate,
  CohortFit,
  CohortFitValue,
  CohortModel,
  CohortParameter,
} from "./cohort-fit.js";
import { cohortMixedData } from "./cohort-mixed-data.js";
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
  const prepared = prepare(histories, curve, options);
  const { animals, leftOut, rows } = prepared;
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
    const tried = fitNonlinearMixed(data, {
      method: options.method ?? "REML",
      starts: curve.starts(pooledSeries(animals, origin), constants),
    });
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
  return {
    kind: "fit-cohort",
    schema: 1,
    value: {
      ...value,
      ages: animals.length === 0 ? { from: 0, to: 0 } : shared.ages,
    },
    method: {
      name: "nonlinear mixed model, linearised likelihood",
      options: {
        curve: curve.name,
        method: options.method ?? "REML",
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

interface Prepared {
  readonly animals: readonly AnimalHistory[];
  readonly leftOut: readonly LeftOut[];
  readonly rows: number;
  readonly covariates: readonly CohortCovariate[];
}

function prepare(
  histories: readonly AnimalHistory[],
  curve: GrowthCurve,
  options: FitCohortOptions,
): Prepared {
  const names = [...new Set(Object.values(options.covariates ?? {}).flat())];
  for (const parameter of Object.keys(options.covariates ?? {}))
    known(curve, parameter, "covariates");
  let unusable = 0;
  let uncovered = 0;
  const animals: AnimalHistory[] = [];
  for (const history of histories) {
    if (history.ages.length !== history.masses.length) {
      throw new UsageError({
        needed: "as many ages as masses for each animal",
        came: `${history.ages.length} ages and ${history.masses.length} masses of ${history.animal}`,
        where: "fitCohort",
        todo: "Give one mass for each age.",
      });
    }
    const rows = history.ages
      .map((age, i) => ({ age, mass: history.masses[i]! }))
      .filter((r) => Number.isFinite(r.age) && Number.isFinite(r.mass) && r.mass > 0)
      .sort((a, b) => a.age - b.age);
    unusable += history.ages.length - rows.length;
    if (rows.length === 0) continue;
    const missing = names.some((name) => {
      const v = history.covariates?.[name];
      return v === undefined || v === "" || (typeof v === "number" && !Number.isFinite(v));
    });
    if (missing) {
      uncovered += rows.length;
      continue;
    }
    // Two weighings at one age would be perfectly correlated neighbours.
    const kept = options.serial ? averagedByAge(rows) : rows;
    animals.push({
      animal: history.animal,
      ages: kept.map((r) => r.age),
      masses: kept.map((r) => r.mass),
      covariates: history.covariates ?? {},
    });
  }
  const leftOut: LeftOut[] = [];
  if (unusable > 0) leftOut.push({ reason: "no usable age or mass", count: unusable });
  if (uncovered > 0)
    leftOut.push({ reason: "a covariate of the model is unknown", count: uncovered });
  return {
    animals,
    leftOut,
    rows: animals.reduce((s, a) => s + a.ages.length, 0),
    covariates: animals.length === 0 ? [] : describeCovariates(animals, names),
  };
}

function averagedByAge(rows: readonly { age: number; mass: number }[]) {
  const out: { age: number; mass: number; count: number }[] = [];
  for (const row of rows) {
    const last = out[out.length - 1];
    if (last !== undefined && last.age === row.age) {
      last.mass = (last.mass * last.count + row.mass) / (last.count + 1);
      last.count++;
    } else out.push({ ...row, count: 1 });
  }
  return out;
}

function resolveModel(curve: GrowthCurve, options: FitCohortOptions): CohortModel {
  const random = options.random ?? defaultRandom(curve);
  for (const name of [...random, ...(options.logScale ?? [])])
    known(curve, name, "random or logScale");
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

function known(curve: GrowthCurve, name: string, option: string): void {
  if (curve.parameters.some((p) => p.name === name)) return;
  throw new UsageError({
    needed: `a parameter of the ${curve.title} curve (${curve.parameters.map((p) => p.name).join(", ")})`,
    came: `"${name}" came`,
    where: `fitCohort, option ${option}`,
    todo: "Choose one of the names.",
  });
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

type Shared = Pick<
  CohortFitValue,
  "curve" | "equation" | "units" | "origin" | "constants" | "ages" | "covariates"
>;

function emptyValue(
  shared: Shared,
  animals: readonly AnimalHistory[],
  fit: NonlinearMixedFit | null,
  model: CohortModel | null,
  notices: readonly Notice[],
): CohortFitValue {
  const why = notices[notices.length - 1] ?? notice("cohort-not-fitted", "problem");
  return {
    ...shared,
    status: fit === null || fit.status === "converged" ? "too-few-animals" : fit.status,
    converged: false,
    model,
    parameters: [],
    correlation: null,
    residualSd: notDefined(shared.units.mass, why),
    power: null,
    serialCorrelation: null,
    logLik: null,
    aic: null,
    bic: null,
    animals: animals.map((a) => ({
      animal: a.animal,
      ages: a.ages,
      masses: a.masses,
      fitted: [],
      parameters: [],
      covariates: a.covariates ?? {},
    })),
    population: null,
  };
}

function fullValue(
  shared: Shared,
  animals: readonly AnimalHistory[],
  fit: NonlinearMixedFit,
  model: CohortModel,
  curve: GrowthCurve,
  mean: MeanFunction,
  options: FitCohortOptions,
): CohortFitValue {
  const population = populationModel(fit);
  const { units } = shared;
  const isLog = (name: string) => (options.logScale ?? []).includes(name);
  const unitOf = (j: number) => {
    const p = curve.parameters[j]!;
    return isLog(p.name) ? "1" : parameterUnit(p.kind, units.age, units.mass);
  };
  const toNatural = (j: number, eta: number, se: number): Measured => {
    const p = curve.parameters[j]!;
    const unit = parameterUnit(p.kind, units.age, units.mass);
    return isLog(p.name)
      ? measured(Math.exp(eta), unit, { se: Math.exp(eta) * se })
      : measured(eta, unit, { se });
  };
  const parameters: CohortParameter[] = curve.parameters.map((p, j) => {
    const basic = population.fixed.findIndex((f) => f.parameter === j && f.covariate === null);
    const at = fit.random.names.indexOf(p.name);
    return {
      name: p.name,
      meaning: p.meaning,
      kind: p.kind,
      typical: toNatural(j, population.fixed[basic]!.estimate, fit.fixed.se[basic]!),
      between: at < 0 ? null : measured(fit.random.sd[at]!, unitOf(j), { n: fit.groups }),
      logScale: isLog(p.name),
      effects: population.fixed.flatMap((f, c) => {
        if (f.parameter !== j || f.covariate === null) return [];
        const [covariate, level] = f.covariate.split("=");
        return [
          {
            covariate: covariate!,
            level: level ?? null,
            effect: measured(f.estimate, unitOf(j), { se: fit.fixed.se[c]! }),
          },
        ];
      }),
    };
  });
  let row = 0;
  const own: CohortAnimal[] = animals.map((a) => {
    const prior = individualPrior(
      population,
      columnValues(shared.covariates, a.covariates ?? {}, "fitCohort"),
    );
    const one = makeIndividual(prior, mean);
    a.ages.forEach((age, i) => {
      one.observe(age - shared.origin, a.masses[i]!);
    });
    const k = curve.parameters.length;
    const fitted = a.ages.map((_, i) => fit.fitted[row + i]!);
    row += a.ages.length;
    return {
      animal: a.animal,
      ages: a.ages,
      masses: a.masses,
      fitted,
      parameters: curve.parameters.map((_, j) =>
        toNatural(j, one.eta[j]!, Math.sqrt(one.covariance[j * k + j]!)),
      ),
      covariates: a.covariates ?? {},
    };
  });
  return {
    ...shared,
    status: "converged",
    converged: true,
    model,
    parameters,
    correlation: fit.random.correlation,
    residualSd: measured(fit.sigma, units.mass, { n: fit.n }),
    power: fit.residual?.power ?? null,
    serialCorrelation: fit.residual?.phi ?? null,
    logLik: fit.logLik,
    aic: fit.aic,
    bic: fit.bic,
    animals: own,
    population,
  };
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
