import { type LongWork, stopIfCancelled } from "../../core/long-work.js";
import { type Random, seededRandom } from "../../core/random.js";
import { requireNumbers } from "../../core/require-numbers.js";
import { quantile } from "../descriptive/quantile.js";
import { correlateSeries, neighbourCorrelations } from "../descriptive/serial-correlation.js";
import { semidefiniteFactor } from "../linear-algebra/small-matrix.js";
import { fitNonlinearMixed, type NonlinearMixedFit } from "./fit-nonlinear-mixed.js";
import { makeIndividual } from "./individual.js";
import { groupParameters, type NonlinearMixedData } from "./model.js";
import { individualPrior, populationModel } from "./prior.js";

export interface BootstrapInterval {
  readonly name: string;
  readonly estimate: number;
  readonly se: number;
  readonly lower: number;
  readonly upper: number;
}

export interface MixedBootstrap {
  readonly replicates: number;
  /** Replicates whose refit did not converge; left out of the figures. */
  readonly failed: number;
  readonly seed: number;
  readonly fixed: readonly BootstrapInterval[];
  readonly sd: readonly BootstrapInterval[];
  readonly sigma: BootstrapInterval;
}

/**
 * Parametric bootstrap of a nonlinear mixed model: new random effects and
 * residuals are drawn from the fit on the same x and groups, the model is
 * refitted, and percentiles of the estimates are given.
 *
 * @example bootstrapNonlinearMixed(fit, data, { replicates: 200, seed: 1 }).fixed[0].lower
 */
export function bootstrapNonlinearMixed(
  fit: NonlinearMixedFit,
  data: NonlinearMixedData,
  options: LongWork & { readonly replicates?: number; readonly level?: number } = {},
): MixedBootstrap {
  const { replicates = 200, level = 0.95, seed = 1 } = options;
  const refits: NonlinearMixedFit[] = [];
  let failed = 0;
  eachReplicate(fit, data, replicates, seed, options, (refit) => {
    if (refit === null) failed++;
    else refits.push(refit);
  });
  const interval = (name: string, estimate: number, draws: number[]): BootstrapInterval => {
    const at = (p: number) => quantile(draws, p) ?? estimate;
    const mean = draws.reduce((s, v) => s + v, 0) / draws.length;
    const se = Math.sqrt(draws.reduce((s, v) => s + (v - mean) ** 2, 0) / (draws.length - 1));
    return { name, estimate, se, lower: at((1 - level) / 2), upper: at((1 + level) / 2) };
  };
  return {
    replicates,
    failed,
    seed,
    fixed: fit.fixed.names.map((name, c) =>
      interval(
        name,
        fit.fixed.estimates[c]!,
        refits.map((r) => r.fixed.estimates[c]!),
      ),
    ),
    sd: fit.random.names.map((name, c) =>
      interval(
        name,
        fit.random.sd[c]!,
        refits.map((r) => r.random.sd[c]!),
      ),
    ),
    sigma: interval(
      "sigma",
      fit.sigma,
      refits.map((r) => r.sigma),
    ),
  };
}

export interface CalibrationOptions extends LongWork {
  readonly replicates?: number;
  /** New individuals drawn per replicate. Default 20. */
  readonly individuals?: number;
  /** Numbers of own observations at which to calibrate. Default 0, 1, 3, 7. */
  readonly counts?: readonly number[];
  /** How far ahead of the last observation the mean is predicted. */
  readonly ahead: number;
  /** First observation of a new individual, and the distance to the next ones. */
  readonly first: number;
  readonly spacing: number;
  readonly level?: number;
  readonly covariates?: Readonly<Record<string, number>>;
}

export interface CalibratedMultiplier {
  readonly count: number;
  /** What to multiply the standard error by, for this coverage. */
  readonly multiplier: number;
  /** Share of simulated truths that the uncalibrated t interval held. */
  readonly coverageBefore: number;
}

/**
 * Finds, by parametric bootstrap, the multiplier of the standard error with
 * which intervals for a new individual's true mean hold their level: in each
 * replicate the model is refitted to simulated groups and asked about new
 * individuals drawn from the original fit.
 *
 * @example
 * const mean = (x, phi, out, at) => ((out[at] = x), phi[0] * x);
 * const x = [1, 2, 3, 1, 2, 3, 1, 2, 3], group = [1, 1, 1, 2, 2, 2, 3, 3, 3];
 * const response = [2, 4.1, 6, 2.5, 5, 7.4, 1.6, 3, 4.4];
 * const data = { x, response, group, mean, parameters: ["rate"], random: ["rate"] };
 * const fit = fitNonlinearMixed(data, { starts: [[2]] });
 * calibrateIndividuals(fit, data, { ahead: 1, first: 1, spacing: 1, counts: [1], replicates: 20 }).multipliers[0].multiplier // 2.08272
 */
export function calibrateIndividuals(
  fit: NonlinearMixedFit,
  data: NonlinearMixedData,
  options: CalibrationOptions,
): { readonly multipliers: readonly CalibratedMultiplier[]; readonly failed: number } {
  const {
    replicates = 200,
    individuals = 20,
    counts = [0, 1, 3, 7],
    level = 0.95,
    seed = 1,
  } = options;
  requireNumbers("calibrateIndividuals", "counts", counts);
  const truth = individualPrior(populationModel(fit), options.covariates);
  const k = truth.mean.length;
  const l = semidefiniteFactor(Float64Array.from(truth.between.flat()), k);
  const ratios = counts.map(() => [] as number[]);
  const inside = counts.map(() => 0);
  let failed = 0;
  const phi = new Float64Array(k);
  const gradient = new Float64Array(k);
  const most = Math.max(...counts);
  eachReplicate(fit, data, replicates, seed, options, (refit, random) => {
    if (refit === null) {
      failed++;
      return;
    }
    const prior = individualPrior(populationModel(refit), options.covariates);
    const one = makeIndividual(prior, data.mean);
    const z = new Float64Array(k);
    const noise = new Float64Array(most);
    for (let i = 0; i < individuals; i++) {
      for (let j = 0; j < k; j++) z[j] = random.normal();
      for (let a = 0; a < k; a++) {
        let s = truth.mean[a]!;
        for (let b = 0; b <= a; b++) s += l[a * k + b]! * z[b]!;
        phi[a] = truth.logScale[a] === 1 ? Math.exp(s) : s;
      }
      const own = Float64Array.from(phi);
      for (let j = 0; j < most; j++) noise[j] = random.normal();
      const xs = Array.from({ length: most }, (_, j) => options.first + j * options.spacing);
      if (truth.phi !== null) {
        correlateSeries(noise, neighbourCorrelations(xs, Int32Array.of(0, most), truth.phi));
      }
      one.reset();
      let at = 0;
      counts.forEach((count, c) => {
        for (; at < count; at++) {
          const f = data.mean(xs[at]!, own, gradient, 0);
          const sd = truth.sigma * (truth.power === null ? 1 : Math.abs(f) ** truth.power);
          one.observe(xs[at]!, f + sd * noise[at]!);
        }
        const x = (count === 0 ? options.first : xs[count - 1]!) + options.ahead;
        const target = data.mean(x, own, gradient, 0);
        const p = one.predict(x, { level });
        ratios[c]!.push(Math.abs(target - p.value) / p.se);
        if (target >= p.lower && target <= p.upper) inside[c]!++;
      });
    }
  });
  return {
    failed,
    multipliers: counts.map((count, c) => {
      const sorted = ratios[c]!.sort((a, b) => a - b);
      const n = sorted.length;
      return {
        count,
        multiplier:
          sorted[Math.min(n - 1, Math.ceil(level * (n + 1)) - 1)] ?? Number.POSITIVE_INFINITY,
        coverageBefore: n === 0 ? 0 : inside[c]! / n,
      };
    }),
  };
}

function eachReplicate(
  fit: NonlinearMixedFit,
  data: NonlinearMixedData,
  replicates: number,
  seed: number,
  work: LongWork,
  use: (refit: NonlinearMixedFit | null, random: Random) => void,
): void {
  const whole = seededRandom(seed);
  for (let r = 0; r < replicates; r++) {
    stopIfCancelled(work.signal);
    const random = whole.split(r);
    const response = simulateResponse(fit, random);
    const refit = fitNonlinearMixed(
      { ...data, response },
      { starts: [], method: fit.method, warm: fit },
    );
    use(refit.status === "converged" ? refit : null, random);
    work.onProgress?.({ done: r + 1, total: replicates, doing: "refitting simulated groups" });
  }
}

/** A response drawn from the fitted model on its own x and groups, in input order. */
export function simulateResponse(fit: NonlinearMixedFit, random: Random): Float64Array {
  const { model } = fit.engine;
  const { n, groups, q, k, starts, x, order, mean } = model;
  const l = semidefiniteFactor(Float64Array.from(fit.random.covariance.flat()), q);
  const b = new Float64Array(groups * q);
  for (let g = 0; g < groups; g++) {
    const z = Float64Array.from({ length: q }, () => random.normal());
    for (let i = 0; i < q; i++) for (let j = 0; j <= i; j++) b[g * q + i]! += l[i * q + j]! * z[j]!;
  }
  const noise = Float64Array.from({ length: n }, () => random.normal());
  if (fit.residual !== null && fit.residual.phi !== null) {
    correlateSeries(noise, neighbourCorrelations(x, starts, fit.residual.phi));
  }
  const beta = Float64Array.from(fit.fixed.estimates);
  const phi = new Float64Array(k);
  const slope = new Float64Array(k);
  const d = new Float64Array(k);
  const power = fit.residual?.power ?? null;
  const out = new Float64Array(n);
  for (let g = 0; g < groups; g++) {
    groupParameters(model, g, beta, b, phi, slope);
    for (let i = starts[g]!; i < starts[g + 1]!; i++) {
      const f = mean(x[i]!, phi, d, 0);
      out[order[i]!] = f + fit.sigma * (power === null ? 1 : Math.abs(f) ** power) * noise[i]!;
    }
  }
  return out;
}
