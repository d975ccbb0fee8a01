import { requireNumbers } from "../../core/require-numbers.js";
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
  const where = "fitLinearMixed";
  const fail = (needed: string, came: string, todo: string): never => {
    throw new UsageError({ needed, came, where, todo });
  };
  requireNumbers(where, "the response", data.response);
  requireColumns(where, "fixed", data.fixed, n);
  if (!Array.isArray(data.levels)) {
    fail(
      "`levels`, a list of grouping levels",
      "none came",
      "Give `levels: []` for generalised least squares.",
    );
  }
  for (const level of data.levels) {
    const name = `levels, ${level.name}`;
    if (level.group?.length !== n) {
      fail(
        `${n} groups of ${level.name}`,
        `${level.group?.length ?? "none"} came`,
        "Give the group of each row.",
      );
    }
    requireColumns(where, name, level, n);
    if (level.columns.length === 0) {
      fail(
        `at least one random effect of ${level.name}`,
        "none came",
        'A random intercept is { names: ["one"], columns: [a column of ones] }.',
      );
    }
  }
  if (n <= data.fixed.columns.length) {
    fail(
      "more rows than fixed columns",
      `${n} rows for ${data.fixed.columns.length} columns`,
      "Leave out fixed columns, or wait for more rows.",
    );
  }
}

/** One name and one list of n numbers for each column, and not a list of rows. */
function requireColumns(
  where: string,
  what: string,
  given: { readonly names: readonly string[]; readonly columns: readonly ArrayLike<number>[] },
  n: number,
): void {
  const { names, columns } = given ?? {};
  if (!Array.isArray(names) || !Array.isArray(columns) || names.length !== columns.length) {
    throw new UsageError({
      needed: `${what}: { names, columns } with one name for each column`,
      came:
        Array.isArray(names) && Array.isArray(columns)
          ? `${names.length} names and ${columns.length} columns came`
          : "something else came",
      where,
      todo: "Give each column of the design as one list of numbers, one for each row.",
    });
  }
  columns.forEach((c, j) => {
    requireNumbers(where, `${what}, column ${names[j]}`, c, n);
  });
}
