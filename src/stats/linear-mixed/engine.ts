import { UsageError } from "../../core/usage-error.js";
import { emptyBlocks, type LevelShape, type LikelihoodMethod, type MixedBlocks } from "./blocks.js";
import { orthogonalise, removeComponent, standardise } from "./columns.js";
import type { CovarianceShape } from "./covariance.js";
import type { LinearMixedData } from "./data.js";
import { mixedObjective } from "./objective.js";
import { sortByGroups } from "./order.js";
import { type MixedProfile, makeProfile } from "./profile.js";
import { prepareResidual, type ResidualWork } from "./residual.js";

export interface EngineLevel extends LevelShape {
  readonly name: string;
  readonly names: readonly string[];
  readonly shape: CovarianceShape;
  readonly labels: readonly string[];
  /** q x q: original effects = transform times working effects. */
  readonly transform: Float64Array;
}

/** A model ready to be fitted: rows sorted, columns made orthogonal, blocks filled. */
export interface LinearMixedEngine {
  readonly n: number;
  /** Columns of the fixed design that are not combinations of earlier ones. */
  readonly kept: readonly number[];
  readonly aliased: readonly number[];
  /** kept x kept upper triangle R with X = Q R. */
  readonly r: Float64Array;
  /** Coefficients on Q taken out of the response beforehand. */
  readonly gamma0: Float64Array;
  /** Row i of the working order is row order[i] of the input. */
  readonly order: Int32Array;
  readonly starts: Int32Array;
  /** Innermost first. */
  readonly levels: readonly EngineLevel[];
  readonly width: number;
  /** n x width working rows (Z of each level, Q, residual response), before whitening. */
  readonly rows: Float64Array;
  readonly blocks: MixedBlocks;
  readonly profile: MixedProfile;
  readonly residual: ResidualWork | null;
  readonly thetaCount: number;
  readonly factors: readonly Float64Array[];
  /** -2 log-likelihood at (theta, residual parameters) and its gradient. */
  deviance(
    parameters: Float64Array,
    method: LikelihoodMethod,
    gradient: Float64Array | null,
  ): number;
}

/** Sorts, checks and transforms the data of a linear mixed model. */
export function prepareLinearMixed(data: LinearMixedData): LinearMixedEngine {
  const n = data.response.length;
  check(data, n);
  const outward = [...data.levels].reverse();
  const { order, starts, shapes, labels } = sortByGroups(data, n);
  const take = (values: ArrayLike<number>) => {
    const out = new Float64Array(n);
    for (let i = 0; i < n; i++) out[i] = values[order[i]!]!;
    return out;
  };
  const x = data.fixed.columns.map(take);
  const { kept, aliased, r } = orthogonalise(x);
  const p = kept.length;
  const y = take(data.response);
  const gamma0 = new Float64Array(p);
  for (let pass = 0; pass < 2; pass++) {
    kept.forEach((c, k) => {
      gamma0[k]! += removeComponent(y, x[c]!);
    });
  }
  const levels: EngineLevel[] = outward.map((level, k) => {
    const z = level.columns.map(take);
    const shape = level.covariance ?? "general";
    return {
      ...shapes[k]!,
      name: level.name,
      names: level.names,
      shape,
      labels: labels[k]!,
      transform: standardise(z, shape),
      z,
    };
  });
  const columns = [
    ...levels.flatMap((l) => (l as EngineLevel & { z: Float64Array[] }).z),
    ...kept.map((c) => x[c]!),
    y,
  ];
  const width = columns.length;
  const rows = new Float64Array(n * width);
  columns.forEach((column, j) => {
    for (let i = 0; i < n; i++) rows[i * width + j] = column[i]!;
  });
  for (const level of levels) delete (level as { z?: unknown }).z;
  const residual =
    data.residual === undefined ? null : prepareResidual(data.residual, n, order, starts);
  const blocks = emptyBlocks(n, p, levels);
  const profile = makeProfile(blocks);
  let logDetR = 0;
  for (let k = 0; k < p; k++) logDetR += 2 * Math.log(Math.abs(r[k * p + k]!));
  const objective = mixedObjective({
    blocks,
    profile,
    levels,
    rows,
    width,
    starts,
    residual,
    remlConstant: logDetR,
  });
  objective.refresh();
  return {
    n,
    kept,
    aliased,
    r,
    gamma0,
    order,
    starts,
    levels,
    width,
    rows,
    blocks,
    profile,
    residual,
    thetaCount: objective.thetaCount,
    factors: objective.factors,
    deviance: objective.deviance,
  };
}

function check(data: LinearMixedData, n: number): void {
  const fail = (needed: string, came: string): never => {
    throw new UsageError({
      needed,
      came,
      where: "fitLinearMixed",
      todo: "Leave out incomplete rows before the fit and give one number per row.",
    });
  };
  const finite = (name: string, values: ArrayLike<number>) => {
    if (values.length !== n) fail(`${n} values of ${name}`, `${values.length} came`);
    for (let i = 0; i < n; i++) {
      if (!Number.isFinite(values[i]!))
        fail(`finite values of ${name}`, `row ${i} is ${values[i]}`);
    }
  };
  finite("the response", data.response);
  data.fixed.columns.forEach((c, j) => {
    finite(data.fixed.names[j] ?? `column ${j}`, c);
  });
  for (const level of data.levels) {
    if (level.group.length !== n)
      fail(`${n} groups of ${level.name}`, `${level.group.length} came`);
    level.columns.forEach((c, j) => {
      finite(`${level.name}: ${level.names[j] ?? j}`, c);
    });
  }
  if (n <= data.fixed.columns.length) {
    fail("more rows than fixed columns", `${n} rows for ${data.fixed.columns.length} columns`);
  }
}
