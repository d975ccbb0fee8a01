import { UsageError } from "../core/usage-error.js";
import type { CovarianceShape } from "./linear-mixed-covariance.js";
import { mixedObjective } from "./linear-mixed-objective.js";
import {
  emptyBlocks,
  type LevelShape,
  type LikelihoodMethod,
  type MixedBlocks,
  type MixedProfile,
  makeProfile,
} from "./linear-mixed-profile.js";
import {
  prepareResidual,
  type ResidualStructure,
  type ResidualWork,
} from "./linear-mixed-residual.js";

/** Random effects of one grouping level. */
export interface RandomLevel {
  readonly name: string;
  /** Group of each row. Groups of an inner level are distinct within each outer group. */
  readonly group: ArrayLike<string | number>;
  readonly names: readonly string[];
  /** One column per random effect; a column of ones is a random intercept. */
  readonly columns: readonly ArrayLike<number>[];
  readonly covariance?: CovarianceShape;
}

export interface LinearMixedData {
  readonly response: ArrayLike<number>;
  readonly fixed: {
    readonly names: readonly string[];
    readonly columns: readonly ArrayLike<number>[];
  };
  /** Outermost first; none for generalised least squares. */
  readonly levels: readonly RandomLevel[];
  /** Innermost grouping for serial correlation when there is no random level. */
  readonly serialGroup?: ArrayLike<string | number>;
  readonly residual?: ResidualStructure;
}

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

/** Numbers groups level by level (outermost first) and sorts rows so that groups lie together. */
function sortByGroups(data: LinearMixedData, n: number) {
  const groupings = data.levels.map((l) => l.group);
  const inner = data.levels.length === 0 ? [data.serialGroup ?? null] : groupings;
  let codes = new Int32Array(n);
  let count = 1;
  const parents: Int32Array[] = [];
  const names: string[][] = [];
  for (const grouping of inner) {
    const seen = new Map<unknown, number>();
    const parent: number[] = [];
    const label: string[] = [];
    const next = new Int32Array(n);
    let lastOuter = -1;
    let lastValue: unknown;
    let lastCode = -1;
    for (let i = 0; i < n; i++) {
      const value = grouping === null ? 0 : grouping[i]!;
      if (lastCode >= 0 && codes[i] === lastOuter && value === lastValue) {
        next[i] = lastCode;
        continue;
      }
      const key = count === 1 ? value : `${codes[i]}|${value}`;
      let code = seen.get(key);
      if (code === undefined) {
        code = label.length;
        seen.set(key, code);
        label.push(String(value));
        parent.push(codes[i]!);
      }
      next[i] = code;
      lastOuter = codes[i]!;
      lastValue = value;
      lastCode = code;
    }
    parents.push(Int32Array.from(parent));
    names.push(label);
    codes = next;
    count = label.length;
  }
  const time = data.residual?.serial?.time;
  const order = groupOrder(codes, count, n, time);
  const starts = new Int32Array(count + 1);
  for (let i = 0; i < n; i++) starts[codes[i]! + 1]!++;
  for (let g = 0; g < count; g++) starts[g + 1]! += starts[g]!;
  if (time !== undefined) {
    for (let g = 0; g < count; g++) {
      for (let i = starts[g]! + 1; i < starts[g + 1]!; i++) {
        if (time[order[i]!]! <= time[order[i - 1]!]!) {
          throw new UsageError({
            needed: "one row per group and time for serial correlation",
            came: `group ${names[names.length - 1]![g]} has two rows at time ${time[order[i]!]}`,
            where: "fitLinearMixed",
            todo: "Average or drop the repeats, or leave serial correlation out.",
          });
        }
      }
    }
  }
  const shapes: LevelShape[] = [];
  if (data.levels.length > 0) {
    for (let k = data.levels.length - 1; k >= 0; k--) {
      shapes.push({
        q: data.levels[k]!.columns.length,
        groups: names[k]!.length,
        parent: k === 0 ? new Int32Array(names[0]!.length) : parents[k]!,
      });
    }
  }
  return { order, starts, shapes, labels: [...names].reverse() };
}

/** A stable counting sort by group, then by time inside each group where time matters. */
function groupOrder(codes: Int32Array, count: number, n: number, time?: ArrayLike<number>) {
  const at = new Int32Array(count + 1);
  for (let i = 0; i < n; i++) at[codes[i]! + 1]!++;
  for (let g = 0; g < count; g++) at[g + 1]! += at[g]!;
  const starts = at.slice();
  const order = new Int32Array(n);
  for (let i = 0; i < n; i++) order[at[codes[i]!]!++] = i;
  if (time !== undefined) {
    for (let g = 0; g < count; g++) {
      order.subarray(starts[g]!, starts[g + 1]!).sort((a, b) => time[a]! - time[b]! || a - b);
    }
  }
  return order;
}

/** Removes from `y` its component along the unit vector `q`; returns the coefficient. */
function removeComponent(y: Float64Array, q: Float64Array): number {
  let s = 0;
  for (let i = 0; i < y.length; i++) s += y[i]! * q[i]!;
  for (let i = 0; i < y.length; i++) y[i]! -= s * q[i]!;
  return s;
}

/**
 * Gram-Schmidt with a second pass, in place. Columns that lie in the span of
 * earlier ones (less than 1e-10 of their length is left) are named, not used.
 */
function orthogonalise(x: Float64Array[]): { kept: number[]; aliased: number[]; r: Float64Array } {
  const kept: number[] = [];
  const aliased: number[] = [];
  const coefficients: number[][] = [];
  x.forEach((column, c) => {
    const length = Math.sqrt(column.reduce((s, v) => s + v * v, 0));
    const own: number[] = kept.map(() => 0);
    for (let pass = 0; pass < 2; pass++) {
      kept.forEach((k, j) => {
        own[j]! += removeComponent(column, x[k]!);
      });
    }
    const left = Math.sqrt(column.reduce((s, v) => s + v * v, 0));
    if (!(left > 1e-10 * length)) {
      aliased.push(c);
      return;
    }
    for (let i = 0; i < column.length; i++) column[i]! /= left;
    kept.push(c);
    coefficients.push([...own, left]);
  });
  const p = kept.length;
  const r = new Float64Array(p * p);
  coefficients.forEach((own, j) => {
    own.forEach((v, k) => {
      r[k * p + j] = v;
    });
  });
  return { kept, aliased, r };
}

/** Makes random-effect columns well scaled in place; returns T with Z_working = Z T. */
function standardise(z: Float64Array[], shape: CovarianceShape): Float64Array {
  const q = z.length;
  const n = z[0]?.length ?? 0;
  const t = new Float64Array(q * q);
  const size = (v: Float64Array) => Math.sqrt(v.reduce((s, e) => s + e * e, 0) / Math.max(1, n));
  if (shape !== "general") {
    const common = Math.sqrt(z.reduce((s, v) => s + size(v) ** 2, 0) / Math.max(1, q)) || 1;
    z.forEach((v, j) => {
      const s = shape === "identity" ? common : size(v) || 1;
      t[j * q + j] = 1 / s;
      for (let i = 0; i < n; i++) v[i]! /= s;
    });
    return t;
  }
  for (let j = 0; j < q; j++) {
    const before = size(z[j]!);
    t[j * q + j] = 1;
    for (let pass = 0; pass < 2; pass++) {
      for (let k = 0; k < j; k++) {
        let s = 0;
        for (let i = 0; i < n; i++) s += z[j]![i]! * z[k]![i]!;
        s /= n;
        for (let i = 0; i < n; i++) z[j]![i]! -= s * z[k]![i]!;
        for (let r = 0; r < q; r++) t[r * q + j]! -= s * t[r * q + k]!;
      }
    }
    const after = size(z[j]!);
    const scale = after > 1e-10 * before ? after : 1;
    for (let i = 0; i < n; i++) z[j]![i]! /= scale;
    for (let r = 0; r < q; r++) t[r * q + j]! /= scale;
  }
  return t;
}
