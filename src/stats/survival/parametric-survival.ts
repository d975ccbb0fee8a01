import { UsageError } from "../../core/usage-error.js";
import {
  normalCumulative,
  normalLogCumulative,
  normalLogDensity,
} from "../distributions/normal.js";
import { choleskyFactor, invertFromCholesky, solveCholesky } from "../linear-algebra/cholesky.js";
import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";
import { fitLinearModel } from "../linear-model/fit-linear-model.js";
import { requireSurvivalData, type SurvivalData } from "./survival-data.js";

export type SurvivalLaw = "weibull" | "exponential" | "log-normal" | "log-logistic";

export interface ParametricSurvival {
  readonly status: "converged" | "did-not-converge" | "not-identified";
  /** Of log time, on the columns of x. */
  readonly coefficients: readonly number[];
  readonly scale: number;
  /** Covariance of the coefficients and, last, log scale (absent for the exponential law). */
  readonly covariance: Matrix | null;
  readonly logLikelihood: number;
  readonly iterations: number;
}

/**
 * Accelerated-time model log T = x b + scale e, e of the chosen law, by maximum
 * likelihood with right censoring. Source: Kalbfleisch and Prentice (1980), ch. 3.
 *
 * @throws UsageError for times that are not positive, or delayed entry.
 * @example parametricSurvival({ time: [4, 5, 7, 9, 11, 12], event: [1, 1, 0, 1, 1, 0] }, matrixFromRows([[1], [1], [1], [1], [1], [1]]), "exponential").coefficients[0] // 2.48491
 */
export function parametricSurvival(
  data: SurvivalData,
  x: Matrix,
  law: SurvivalLaw,
  options: { readonly maxIterations?: number } = {},
): ParametricSurvival {
  requireSurvivalData("parametricSurvival", data);
  const { maxIterations = 100 } = options;
  const n = data.time.length;
  if (data.entry !== undefined || Array.from(data.time).some((t) => !(t > 0)) || x.rows !== n) {
    throw new UsageError({
      needed: "times above 0, no delayed entry, and one row of covariates each",
      came: data.entry === undefined ? "a time of 0 or less, or other rows" : "entry times came",
      where: "parametricSurvival",
      todo: "Use coxRegression for delayed entry.",
    });
  }
  const p = x.cols;
  const fixed = law === "exponential";
  const size = p + (fixed ? 0 : 1);
  const logs = Float64Array.from(data.time, Math.log);
  const begin = fitLinearModel(x, logs);
  const theta0 = new Float64Array(size);
  begin.coefficients.forEach((b, j) => {
    theta0[j] = b ?? 0;
  });
  if (!fixed) theta0[p] = Math.log(begin.residualSd || 1) - 0.3;
  const at = (theta: Float64Array) => {
    const scale = fixed ? 1 : Math.exp(theta[p]!);
    let value = 0;
    const u = new Float64Array(size);
    const info = makeMatrix(size, size);
    for (let i = 0; i < n; i++) {
      let eta = 0;
      for (let j = 0; j < p; j++) eta += x.data[i * p + j]! * theta[j]!;
      const z = (logs[i]! - eta) / scale;
      const seen = Boolean(data.event[i]);
      const [f, f1, f2] = partsOf(law, z, seen);
      value += f + (seen ? -Math.log(scale) - logs[i]! : 0);
      // dz/db = -x / scale, dz/dlog scale = -z.
      const slope = Float64Array.from({ length: size }, (_, j) =>
        j < p ? -x.data[i * p + j]! / scale : -z,
      );
      for (let j = 0; j < size; j++) {
        u[j]! += f1 * slope[j]! - (seen && j === p ? 1 : 0);
        for (let k = 0; k < size; k++) {
          // Second derivatives of z: only with log scale.
          const second = j === p && k === p ? z : j === p ? -slope[k]! : k === p ? -slope[j]! : 0;
          info.data[j * size + k]! -= f2 * slope[j]! * slope[k]! + f1 * second;
        }
      }
    }
    return { value, u, info };
  };
  let theta = theta0;
  let here = at(theta);
  let status: ParametricSurvival["status"] = "did-not-converge";
  let iterations = 0;
  for (; iterations < maxIterations; iterations++) {
    const l = firstFactor(here.info);
    if (l === null) {
      status = "not-identified";
      break;
    }
    const step = solveCholesky(l, here.u);
    let shrink = 1;
    let next = at(theta.map((v, j) => v + step[j]!));
    while (!(next.value >= here.value - 1e-10 * Math.abs(here.value)) && shrink > 1e-8) {
      shrink /= 2;
      next = at(theta.map((v, j) => v + shrink * step[j]!));
    }
    theta = theta.map((v, j) => v + shrink * step[j]!);
    here = next;
    if (shrink === 1 && step.every((v, j) => Math.abs(v) < 1e-11 * (1 + Math.abs(theta[j]!)))) {
      status = "converged";
      break;
    }
  }
  const l = choleskyFactor(here.info, 1e-13);
  if (l === null) status = "not-identified";
  return {
    status,
    coefficients: Array.from(theta.subarray(0, p)),
    scale: fixed ? 1 : Math.exp(theta[p]!),
    covariance: l === null ? null : invertFromCholesky(l),
    logLikelihood: here.value,
    iterations,
  };
}

/** The factor of the information, its diagonal raised until one exists. */
function firstFactor(info: Matrix): Matrix | null {
  for (let ridge = 0; ridge < 1e6; ridge = ridge === 0 ? 1e-4 : ridge * 10) {
    const raised = makeMatrix(info.rows, info.cols, info.data);
    const copy = makeMatrix(info.rows, info.cols, Float64Array.from(raised.data));
    for (let j = 0; j < info.rows; j++) {
      copy.data[j * info.cols + j]! += ridge * Math.abs(info.data[j * info.cols + j]!);
    }
    const l = choleskyFactor(copy, 1e-14);
    if (l !== null) return l;
  }
  return null;
}

/** log density (event) or log upper tail (censored) of the standard law, with two derivatives. */
function partsOf(law: SurvivalLaw, z: number, seen: boolean): [number, number, number] {
  if (law === "weibull" || law === "exponential") {
    const e = Math.exp(z);
    return seen ? [z - e, 1 - e, -e] : [-e, -e, -e];
  }
  if (law === "log-logistic") {
    const s = 1 / (1 + Math.exp(-z));
    const softplus = z > 0 ? z + Math.log1p(Math.exp(-z)) : Math.log1p(Math.exp(z));
    return seen ? [z - 2 * softplus, 1 - 2 * s, -2 * s * (1 - s)] : [-softplus, -s, -s * (1 - s)];
  }
  if (seen) return [normalLogDensity(z), -z, -1];
  const log = normalLogCumulative(z, "upper");
  const mills = normalCumulative(z, "upper") > 0 ? Math.exp(normalLogDensity(z) - log) : z + 1 / z;
  return [log, -mills, -mills * (mills - z)];
}
