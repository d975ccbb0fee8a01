import { requireNumbers } from "../../core/require-numbers.js";
import { UsageError } from "../../core/usage-error.js";
import type { CovarianceShape } from "../linear-mixed/covariance.js";
import {
  prepareResidual,
  type ResidualStructure,
  type ResidualWork,
} from "../linear-mixed/residual.js";

/**
 * A mean function f(x, phi): returns the value at x and writes the derivative by
 * parameter j into `out[at + j]`; `NaN` outside its domain.
 */
export type MeanFunction = (x: number, phi: Float64Array, out: Float64Array, at: number) => number;

/** A covariate's effect on one parameter: values per row, constant within a group. */
export interface ParameterCovariate {
  readonly parameter: string;
  readonly name: string;
  readonly values: ArrayLike<number>;
}

export interface NonlinearMixedData {
  readonly x: ArrayLike<number>;
  readonly response: ArrayLike<number>;
  readonly group: ArrayLike<string | number>;
  readonly mean: MeanFunction;
  /** Names of the parameters of the mean function, in its order. */
  readonly parameters: readonly string[];
  /** Parameters that differ from group to group. */
  readonly random: readonly string[];
  readonly covariance?: Exclude<CovarianceShape, "identity">;
  readonly covariates?: readonly ParameterCovariate[];
  /** Parameters kept positive: effects act on their logarithm. */
  readonly logScale?: readonly string[];
  readonly residual?: ResidualStructure;
}

/** The data in working order, with each fixed coefficient's place. */
export interface NonlinearMixedModel {
  readonly n: number;
  readonly groups: number;
  readonly k: number;
  readonly p: number;
  readonly q: number;
  readonly mean: MeanFunction;
  readonly parameters: readonly string[];
  readonly labels: readonly string[];
  readonly order: Int32Array;
  readonly starts: Int32Array;
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly shape: Exclude<CovarianceShape, "identity">;
  /** Parameter index of each random effect. */
  readonly random: Int32Array;
  readonly logScale: Uint8Array;
  readonly fixedNames: readonly string[];
  /** Parameter index of each fixed coefficient. */
  readonly fixedOf: Int32Array;
  /** Its covariate value in each group (1 for the basic one), p x groups. */
  readonly fixedValue: Float64Array;
  readonly residual: ResidualWork | null;
}

/** Sorts and checks the data of a nonlinear mixed model. */
export function prepareNonlinearMixed(data: NonlinearMixedData): NonlinearMixedModel {
  const n = data.response.length;
  const { parameters } = data;
  const k = parameters.length;
  const fail = (needed: string, came: string): never => {
    throw new UsageError({
      needed,
      came,
      where: "fitNonlinearMixed",
      todo: "Check names and lengths; leave out incomplete rows before the fit.",
    });
  };
  const indexOf = (name: string) => {
    const at = parameters.indexOf(name);
    return at >= 0 ? at : fail(`one of ${parameters.join(", ")}`, `parameter "${name}" came`);
  };
  requireNumbers("fitNonlinearMixed", "the response", data.response);
  requireNumbers("fitNonlinearMixed", "x", data.x, n);
  if (data.group?.length !== n) {
    fail(`${n} groups, one for each row`, `${data.group?.length ?? "none"} came`);
  }
  for (const c of data.covariates ?? []) {
    requireNumbers("fitNonlinearMixed", `covariate ${c.name}`, c.values, n);
  }
  const labels: string[] = [];
  const code = new Map<string | number, number>();
  const codes = new Int32Array(n);
  for (let i = 0; i < n; i++) {
    const g = data.group[i]!;
    let c = code.get(g);
    if (c === undefined) {
      c = labels.push(String(g)) - 1;
      code.set(g, c);
    }
    codes[i] = c;
  }
  const groups = labels.length;
  const starts = new Int32Array(groups + 1);
  for (let i = 0; i < n; i++) starts[codes[i]! + 1]!++;
  for (let g = 0; g < groups; g++) starts[g + 1]! += starts[g]!;
  const place = starts.slice();
  const order = new Int32Array(n);
  for (let i = 0; i < n; i++) order[place[codes[i]!]!++] = i;
  const time = data.residual?.serial?.time ?? data.x;
  for (let g = 0; g < groups; g++) {
    order.subarray(starts[g]!, starts[g + 1]!).sort((a, b) => time[a]! - time[b]! || a - b);
    if (data.residual?.serial !== undefined) {
      for (let i = starts[g]! + 1; i < starts[g + 1]!; i++) {
        if (time[order[i]!] === time[order[i - 1]!]) {
          fail("one row per group and time for serial correlation", `group ${labels[g]} has two`);
        }
      }
    }
  }
  const fixedNames: string[] = [];
  const fixedOf: number[] = [];
  const values: Float64Array[] = [];
  parameters.forEach((name, j) => {
    const own = (data.covariates ?? []).filter((c) => c.parameter === name);
    fixedNames.push(own.length === 0 ? name : `${name}.(Intercept)`);
    fixedOf.push(j);
    values.push(new Float64Array(groups).fill(1));
    for (const c of own) {
      fixedNames.push(`${name}.${c.name}`);
      fixedOf.push(j);
      const perGroup = new Float64Array(groups);
      for (let g = 0; g < groups; g++) {
        perGroup[g] = c.values[order[starts[g]!]!]!;
        for (let i = starts[g]!; i < starts[g + 1]!; i++) {
          if (c.values[order[i]!] !== perGroup[g]) {
            fail(`one value of ${c.name} in each group`, `group ${labels[g]} has several`);
          }
        }
      }
      values.push(perGroup);
    }
  });
  (data.covariates ?? []).forEach((c) => {
    indexOf(c.parameter);
  });
  const p = fixedNames.length;
  const fixedValue = new Float64Array(p * groups);
  values.forEach((v, c) => {
    fixedValue.set(v, c * groups);
  });
  const logScale = new Uint8Array(k);
  for (const name of data.logScale ?? []) logScale[indexOf(name)] = 1;
  return {
    n,
    groups,
    k,
    p,
    q: data.random.length,
    mean: data.mean,
    parameters,
    labels,
    order,
    starts,
    x: Float64Array.from(order, (i) => data.x[i]!),
    y: Float64Array.from(order, (i) => data.response[i]!),
    shape: data.covariance ?? "general",
    random: Int32Array.from(data.random, indexOf),
    logScale,
    fixedNames,
    fixedOf: Int32Array.from(fixedOf),
    fixedValue,
    residual: data.residual === undefined ? null : prepareResidual(data.residual, n, order, starts),
  };
}

/**
 * Parameters of the mean in group g on the natural scale into `phi`, and
 * d phi / d eta into `slope` (phi itself on a log scale, else 1).
 */
export function groupParameters(
  model: NonlinearMixedModel,
  g: number,
  beta: Float64Array,
  b: Float64Array,
  phi: Float64Array,
  slope: Float64Array,
): void {
  const { k, p, q, groups, fixedOf, fixedValue, random, logScale } = model;
  phi.fill(0);
  for (let c = 0; c < p; c++) phi[fixedOf[c]!]! += beta[c]! * fixedValue[c * groups + g]!;
  for (let j = 0; j < q; j++) phi[random[j]!]! += b[g * q + j]!;
  for (let i = 0; i < k; i++) {
    if (logScale[i] === 1) {
      phi[i] = Math.exp(phi[i]!);
      slope[i] = phi[i]!;
    } else slope[i] = 1;
  }
}

/** The random effects of one group on the parameters' own scale, b = scale * L u, into `b`. */
export function groupEffects(
  l: Float64Array,
  scale: Float64Array,
  u: Float64Array,
  g: number,
  b: Float64Array,
): void {
  const q = scale.length;
  for (let i = 0; i < q; i++) {
    let s = 0;
    for (let j = 0; j <= i; j++) s += l[i * q + j]! * u[g * q + j]!;
    b[g * q + i] = s * scale[i]!;
  }
}
