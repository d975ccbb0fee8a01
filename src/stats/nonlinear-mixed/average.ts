import { seededRandom } from "../../core/random.js";
import { quantiles } from "../descriptive/quantile.js";
import { studentTQuantile } from "../distributions/student-t.js";
import { semidefiniteFactor } from "../linear-algebra/small-matrix.js";
import { type CurveSum, individualSums } from "./individual-sums.js";
import type { MeanFunction } from "./model.js";
import { type NormalNodes, normalNodes } from "./normal-nodes.js";
import { individualPrior, type PopulationModel } from "./prior.js";

export interface AverageOptions {
  /** Covariates of the individuals averaged over, with their shares. Default: one kind, none. */
  readonly mix?: readonly {
    readonly covariates: Readonly<Record<string, number>>;
    readonly share: number;
  }[];
  /** Default 0.95. */
  readonly level?: number;
  /** Quantiles of individuals that are given. Default 0.1 and 0.9. */
  readonly shares?: readonly number[];
  /** Individuals drawn for the quantiles. Default 4000. */
  readonly draws?: number;
  readonly seed: number;
}

export interface AveragedSum {
  /** Mean over individuals. */
  readonly mean: number;
  readonly se: number;
  readonly lower: number;
  readonly upper: number;
  /** The same sum for the individual at the mean of the parameters. */
  readonly atMeanParameters: number;
  /** Quantiles over individuals, in the order of `shares`. */
  readonly quantiles: readonly (number | null)[];
}

export interface AveragedCurve {
  readonly sums: readonly AveragedSum[];
  readonly df: number;
  /** Share of the fitted distribution outside the curve's domain, left out of mean and quantiles. */
  readonly outside: number;
}

/**
 * Mean over the fitted distribution of individuals of their curves, which is
 * not the curve at the mean parameters unless the curve is linear in what
 * differs between individuals: E[f(x, beta + b)], b normal, by a product
 * Gauss-Hermite rule; quantiles over individuals from seeded draws, at the
 * estimates.
 *
 * The standard error is that of the mean, by the delta method: the fixed
 * coefficients' covariance through the mean gradient E[df/dbeta], and the
 * variances' uncertainty through one standard error up and down along each of
 * their independent directions. Interval: Student's t with one degree of
 * freedom fewer than there are groups.
 *
 * Population-averaged against subject-specific: Zeger, Liang, Albert (1988)
 * Biometrics 44:1049-1060; Lindsey, Lambert (1998) Stat Med 17:447-469 (both
 * named from memory).
 *
 * @example
 * // y = exp(r x), r normal with mean 1 and sd 0.5: E at x = 1 is exp(1 + 0.125) = 3.080
 * averageOverIndividuals(population, mean, [[{ x: 1, weight: 1 }]], { seed: 1 }).sums[0].mean
 */
export function averageOverIndividuals(
  population: PopulationModel,
  mean: MeanFunction,
  sums: readonly CurveSum[],
  options: AverageOptions,
): AveragedCurve {
  const { level = 0.95, shares = [0.1, 0.9], draws = 4000, seed } = options;
  const mix = options.mix ?? [{ covariates: {}, share: 1 }];
  const kinds = mix.map((m) => ({ ...m, ...weightsOf(population, m.covariates) }));
  const df = Math.max(1, population.groups - 1);
  const t = studentTQuantile((1 + level) / 2, df);
  const integrate = (between: readonly (readonly number[])[], gradient: Float64Array | null) =>
    meanBySum(population, mean, sums, kinds, normalNodes(between), gradient);

  const p = population.fixed.length;
  const gradient = new Float64Array(sums.length * p);
  const centre = integrate(population.between, gradient);
  const moved = population.moved.map(({ up, down }) => ({
    up: integrate(up.between, null).means,
    down: integrate(down.between, null).means,
  }));
  const still = meanBySum(population, mean, sums, kinds, normalNodes([]), null).means;
  const drawn = drawSums(population, mean, sums, kinds, draws, seed);
  return {
    df,
    outside: drawn.outside,
    sums: sums.map((_, s) => {
      let variance = 0;
      for (let c = 0; c < p; c++)
        for (let d = 0; d < p; d++)
          variance +=
            gradient[s * p + c]! * population.fixedCovariance[c]![d]! * gradient[s * p + d]!;
      for (const { up, down } of moved) variance += ((up[s]! - down[s]!) / 2) ** 2;
      const se = Math.sqrt(Math.max(0, variance));
      const value = centre.means[s]!;
      return {
        mean: value,
        se,
        lower: value - t * se,
        upper: value + t * se,
        atMeanParameters: still[s]!,
        quantiles: quantiles(drawn.values[s]!, shares),
      };
    }),
  };
}

interface Kind {
  readonly share: number;
  /** Expected parameters, working scale. */
  readonly centre: readonly number[];
  /** What each fixed coefficient is multiplied by. */
  readonly weight: readonly number[];
}

function weightsOf(
  population: PopulationModel,
  covariates: Readonly<Record<string, number>>,
): Omit<Kind, "share"> {
  return {
    centre: individualPrior(population, covariates).mean,
    weight: population.fixed.map((f) => (f.covariate === null ? 1 : covariates[f.covariate]!)),
  };
}

/** Mean of each sum over kinds and nodes; adds the mean gradient by fixed coefficient where asked. */
function meanBySum(
  population: PopulationModel,
  mean: MeanFunction,
  sums: readonly CurveSum[],
  kinds: readonly Kind[],
  nodes: NormalNodes,
  gradient: Float64Array | null,
): { readonly means: Float64Array } {
  const k = population.parameters.length;
  const p = population.fixed.length;
  const one = individualSums(population, mean);
  const means = new Float64Array(sums.length);
  const total = new Float64Array(sums.length);
  const slopes = new Float64Array(k);
  for (const kind of kinds) {
    nodes.offsets.forEach((offset, o) => {
      const w = kind.share * nodes.weights[o]!;
      one.place(kind.centre, offset);
      sums.forEach((sum, s) => {
        const value = one.value(sum, slopes);
        if (!Number.isFinite(value)) return;
        means[s]! += w * value;
        total[s]! += w;
        if (gradient === null) return;
        population.fixed.forEach((f, c) => {
          gradient[s * p + c]! += w * kind.weight[c]! * slopes[f.parameter]!;
        });
      });
    });
  }
  for (let s = 0; s < sums.length; s++) {
    means[s]! /= total[s]!;
    if (gradient !== null) for (let c = 0; c < p; c++) gradient[s * p + c]! /= total[s]!;
  }
  return { means };
}

/** The sums for individuals drawn from the fitted distribution, kinds in their shares. */
function drawSums(
  population: PopulationModel,
  mean: MeanFunction,
  sums: readonly CurveSum[],
  kinds: readonly Kind[],
  draws: number,
  seed: number,
): { readonly values: readonly (readonly number[])[]; readonly outside: number } {
  const k = population.parameters.length;
  const random = seededRandom(seed);
  const l = semidefiniteFactor(Float64Array.from(population.between.flat()), k);
  const one = individualSums(population, mean);
  const values = sums.map(() => [] as number[]);
  const offset = new Float64Array(k);
  const z = new Float64Array(k);
  const slopes = new Float64Array(k);
  let outside = 0;
  let kind = 0;
  let reached = kinds[0]!.share;
  for (let i = 0; i < draws; i++) {
    while (kind < kinds.length - 1 && (i + 0.5) / draws > reached) reached += kinds[++kind]!.share;
    for (let j = 0; j < k; j++) z[j] = random.normal();
    for (let a = 0; a < k; a++) {
      let sum = 0;
      for (let b = 0; b <= a; b++) sum += l[a * k + b]! * z[b]!;
      offset[a] = sum;
    }
    one.place(kinds[kind]!.centre, offset);
    const own = sums.map((sum) => one.value(sum, slopes));
    if (own.every(Number.isFinite)) {
      own.forEach((value, s) => {
        values[s]!.push(value);
      });
    } else outside++;
  }
  return { values, outside: outside / draws };
}
