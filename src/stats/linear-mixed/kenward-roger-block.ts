import { choleskyFactor, invertFromCholesky } from "../linear-algebra/cholesky.js";
import {
  type Matrix,
  makeMatrix,
  multiplyMatrices,
  transposeMatrix,
} from "../linear-algebra/matrix.js";
import type { Component } from "./components.js";
import type { LinearMixedFit } from "./fit.js";

/** Sums over one block of rows that is independent of all others; residual component last. */
export interface BlockMoments {
  /** -X'V^-1 G_r V^-1 X, each p x p. */
  readonly p: readonly Matrix[];
  /** X'V^-1 G_r V^-1 G_s V^-1 X, each p x p, row by row of (r, s). */
  readonly q: readonly Matrix[];
  /** tr(V^-1 G_r V^-1 G_s). */
  readonly trace: Matrix;
}

/**
 * What the covariance of Kenward and Roger needs of one block. V is the residual
 * variance plus a matrix of the rank of the block's random effects, so everything
 * is computed at their number m instead of the number of rows n (Woodbury's
 * identity): with ZL = Z times the factor of the effects' covariance and
 * K = (I + (ZL)'ZL)^-1, V^-1 = (I - ZL K (ZL)') / s2. Time n (m + p)^2 + m^3, not n^3.
 */
export function blockMoments(
  fit: LinearMixedFit,
  components: readonly Component[],
  groups: readonly Int32Array[],
  block: Int32Array,
): BlockMoments {
  const { engine } = fit;
  const sigma2 = fit.sigma ** 2;
  const n = block.length;
  const p = engine.gamma0.length;
  const zWidth = engine.width - p - 1;
  const { z, columns } = randomColumns(fit, groups, block);
  const m = z.cols;
  const x = makeMatrix(n, p);
  for (let i = 0; i < n; i++) {
    const at = block[i]! * engine.width + zWidth;
    x.data.set(engine.rows.subarray(at, at + p), i * p);
  }
  const zl = timesFactor(fit, z, columns);
  const inner = multiplyMatrices(transposeMatrix(zl), zl);
  for (let i = 0; i < m; i++) inner.data[i * m + i]! += 1;
  // I + (ZL)'ZL has no eigenvalue below one: its factor exists.
  const k = invertFromCholesky(choleskyFactor(inner)!);
  const zlT = transposeMatrix(zl);
  const solve = (b: Matrix) => {
    const out = multiplyMatrices(zl, multiplyMatrices(k, multiplyMatrices(zlT, b)));
    for (let i = 0; i < out.data.length; i++) out.data[i] = (b.data[i]! - out.data[i]!) / sigma2;
    return out;
  };
  const vx = solve(x);
  const vvx = solve(vx);
  const vz = solve(z);
  const zT = transposeMatrix(z);
  const a = multiplyMatrices(zT, vz);
  const u = multiplyMatrices(zT, vx);
  const f = multiplyMatrices(zT, vvx);
  const vxT = transposeMatrix(vx);
  const count = components.length + 1;
  const last = count - 1;
  const uT = transposeMatrix(u);
  const pick = components.map((c) => selector(c, columns, m));
  const cu = pick.map((c) => multiplyMatrices(c, u));
  // A C transposed: C is sparse, and only a sparse left side is passed over quickly.
  const aT = transposeMatrix(a);
  const ca = pick.map((c) => multiplyMatrices(c, aT));
  const vzSquare = multiplyMatrices(transposeMatrix(vz), vz);
  const pOut = cu.map((m_) => negative(multiplyMatrices(uT, m_)));
  pOut.push(negative(multiplyMatrices(vxT, vx)));
  const q: Matrix[] = new Array(count * count);
  const trace = makeMatrix(count, count);
  for (let r = 0; r < last; r++) {
    const left = transposeMatrix(cu[r]!);
    for (let s = 0; s < last; s++) {
      q[r * count + s] = multiplyMatrices(left, multiplyMatrices(a, cu[s]!));
      trace.data[r * count + s] = traceOfProduct(ca[s]!, ca[r]!);
    }
    const edge = multiplyMatrices(left, f);
    q[r * count + last] = edge;
    q[last * count + r] = transposeMatrix(edge);
    const t = traceOfProduct(pick[r]!, vzSquare);
    trace.data[r * count + last] = t;
    trace.data[last * count + r] = t;
  }
  q[count * count - 1] = multiplyMatrices(vxT, vvx);
  let square = 0;
  for (const v of k.data) square += v * v;
  trace.data[count * count - 1] = (n - m + square) / sigma2 ** 2;
  return { p: pOut, q, trace };
}

/** One column of Z of a block: which effect of which level, in which group. */
interface RandomColumn {
  readonly level: number;
  readonly effect: number;
  readonly group: number;
}

/** Z of the block, each group's effects side by side, and what each column is. */
function randomColumns(
  fit: LinearMixedFit,
  groups: readonly Int32Array[],
  block: Int32Array,
): { z: Matrix; columns: RandomColumn[] } {
  const { engine } = fit;
  const columns: RandomColumn[] = [];
  const first = engine.levels.map((level, k) => {
    const at = new Map<number, number>();
    for (const i of block) {
      const group = groups[k]![i]!;
      if (at.has(group)) continue;
      at.set(group, columns.length);
      for (let effect = 0; effect < level.q; effect++) columns.push({ level: k, effect, group });
    }
    return at;
  });
  const z = makeMatrix(block.length, columns.length);
  block.forEach((i, row) => {
    let offset = i * engine.width;
    engine.levels.forEach((level, k) => {
      const at = row * z.cols + first[k]!.get(groups[k]![i]!)!;
      for (let c = 0; c < level.q; c++) z.data[at + c] = engine.rows[offset + c]!;
      offset += level.q;
    });
  });
  return { z, columns };
}

/** Z L, L the factor of the effects' covariance over s2, group by group. */
function timesFactor(fit: LinearMixedFit, z: Matrix, columns: readonly RandomColumn[]): Matrix {
  const { engine } = fit;
  const out = makeMatrix(z.rows, z.cols);
  columns.forEach(({ level, effect }, j) => {
    const q = engine.levels[level]!.q;
    const l = engine.factors[level]!;
    for (let r = effect; r < q; r++) {
      const factor = l[r * q + effect]!;
      const column = j - effect + r;
      for (let i = 0; i < z.rows; i++)
        out.data[i * z.cols + j]! += factor * z.data[i * z.cols + column]!;
    }
  });
  return out;
}

/** C with G = Z C Z': ones where the component's two effects of one group meet. */
function selector(c: Component, columns: readonly RandomColumn[], m: number): Matrix {
  const out = makeMatrix(m, m);
  columns.forEach(({ level, effect }, j) => {
    if (level !== c.level) return;
    if (c.i < 0) out.data[j * m + j] = 1;
    else if (effect === c.i) {
      const other = j - c.i + c.j;
      out.data[j * m + other] = 1;
      out.data[other * m + j] = 1;
    }
  });
  return out;
}

function negative(a: Matrix): Matrix {
  for (let i = 0; i < a.data.length; i++) a.data[i] = -a.data[i]!;
  return a;
}

/** tr(A B). */
export function traceOfProduct(a: Matrix, b: Matrix): number {
  let s = 0;
  for (let i = 0; i < a.rows; i++)
    for (let j = 0; j < a.cols; j++) s += a.data[i * a.cols + j]! * b.data[j * b.cols + i]!;
  return s;
}
