import { UsageError } from "../../core/usage-error.js";
import {
  choleskyFactor,
  invertFromCholesky,
  solveUpperTriangular,
} from "../linear-algebra/cholesky.js";
import {
  type Matrix,
  makeMatrix,
  matrixFromRows,
  multiplyMatrices,
  transposeMatrix,
} from "../linear-algebra/matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";
import { independentBlocks, listComponents, rowGroups } from "./components.js";
import { fixedEstimates, type LinearMixedFit } from "./fit.js";
import { blockMoments, traceOfProduct } from "./kenward-roger-block.js";

/**
 * The small-sample covariance of the fixed effects and what the degrees of
 * freedom of Kenward and Roger (1997, Biometrics 53, 983) need. Only for REML
 * fits with independent residuals of equal variance; their expansion does not
 * hold for the other residual structures here.
 */
export interface KenwardRogerBasis {
  /** Adjusted covariance of the kept fixed effects. */
  readonly covariance: readonly (readonly number[])[];
  readonly unadjusted: Matrix;
  readonly p: readonly Matrix[];
  /** Covariance of the variance parameters. */
  readonly w: Matrix;
}

const LARGEST_BLOCK = 1500;

/** @throws UsageError for ML fits, residual structures, or blocks of more than 1,500 random effects. */
export function kenwardRogerBasis(fit: LinearMixedFit): KenwardRogerBasis {
  const { engine } = fit;
  const refuse = (came: string): never => {
    throw new UsageError({
      needed: "a REML fit with independent residuals of equal variance",
      came,
      where: "kenwardRogerBasis",
      todo: "Use Satterthwaite degrees of freedom instead.",
    });
  };
  if (fit.method !== "REML") refuse("an ML fit came");
  if (engine.residual !== null) refuse("a residual structure came");
  const p = engine.gamma0.length;
  engine.deviance(Float64Array.from(fit.theta), "REML", null);
  const phiQ = workingCovariance(fit);
  const components = listComponents(fit);
  const count = components.length + 1;
  const pSum = Array.from({ length: count }, () => makeMatrix(p, p));
  const qSum = Array.from({ length: count * count }, () => makeMatrix(p, p));
  const trace = makeMatrix(count, count);
  const groups = rowGroups(fit);
  for (const block of independentBlocks(fit, groups)) {
    const effects = randomEffectsIn(fit, groups, block);
    if (effects > LARGEST_BLOCK) refuse(`an independent block of ${effects} random effects came`);
    const own = blockMoments(fit, components, groups, block);
    own.p.forEach((m, r) => {
      addTo(pSum[r]!, m, 1);
    });
    own.q.forEach((m, r) => {
      addTo(qSum[r]!, m, 1);
    });
    addTo(trace, own.trace, 1);
  }
  const phiP = pSum.map((m) => multiplyMatrices(phiQ, m));
  const information = makeMatrix(count, count);
  for (let r = 0; r < count; r++) {
    for (let s = 0; s < count; s++) {
      information.data[r * count + s] =
        trace.data[r * count + s]! -
        2 * traceOfProduct(phiQ, qSum[r * count + s]!) +
        traceOfProduct(phiP[r]!, phiP[s]!);
    }
  }
  const w = twiceInverse(information);
  const sum = makeMatrix(p, p);
  for (let r = 0; r < count; r++) {
    for (let s = 0; s < count; s++) {
      const f = w.data[r * count + s]!;
      addTo(sum, qSum[r * count + s]!, f);
      addTo(sum, multiplyMatrices(pSum[r]!, phiP[s]!), -f);
    }
  }
  const adjusted = makeMatrix(p, p, phiQ.data.slice());
  addTo(adjusted, multiplyMatrices(multiplyMatrices(phiQ, sum), phiQ), 2);
  // From the orthogonal columns back to the original ones: beta = R^-1 gamma.
  const back = inverseR(fit);
  const toOriginal = (m: Matrix) =>
    multiplyMatrices(multiplyMatrices(back, m), transposeMatrix(back));
  const forward = rMatrix(fit);
  const covariance = toOriginal(adjusted);
  return {
    covariance: rowsOf(covariance),
    unadjusted: toOriginal(phiQ),
    p: pSum.map((m) => multiplyMatrices(multiplyMatrices(transposeMatrix(forward), m), forward)),
    w,
  };
}

/** Denominator degrees of freedom and the factor on F for a hypothesis L beta = 0 (rows over kept columns). */
export function kenwardRogerDf(
  basis: KenwardRogerBasis,
  rows: readonly ArrayLike<number>[],
): { readonly df: number; readonly scale: number } {
  const l = matrixFromRows(rows);
  const q = l.rows;
  const { unadjusted: phi, p, w } = basis;
  const middle = multiplyMatrices(multiplyMatrices(l, phi), transposeMatrix(l));
  const inverse = invertFromCholesky(choleskyFactor(middle)!);
  const theta = multiplyMatrices(multiplyMatrices(transposeMatrix(l), inverse), l);
  const thetaPhi = multiplyMatrices(theta, phi);
  const products = p.map((m) => multiplyMatrices(multiplyMatrices(thetaPhi, m), phi));
  let a1 = 0;
  let a2 = 0;
  for (let r = 0; r < p.length; r++) {
    for (let s = 0; s < p.length; s++) {
      const f = w.data[r * p.length + s]!;
      a1 += f * traceOf(products[r]!) * traceOf(products[s]!);
      a2 += f * traceOfProduct(products[r]!, products[s]!);
    }
  }
  const b = (a1 + 6 * a2) / (2 * q);
  const g = ((q + 1) * a1 - (q + 4) * a2) / ((q + 2) * a2);
  const d = 3 * q + 2 * (1 - g);
  const e = 1 / (1 - a2 / q);
  const v =
    ((2 / q) * (1 + (g / d) * b)) / ((1 - ((q - g) / d) * b) ** 2 * (1 - ((q + 2 - g) / d) * b));
  const rho = v / (2 * e * e);
  const df = 4 + (q + 2) / (q * rho - 1);
  return { df, scale: Math.abs(df - 2) < 1e-9 ? 1 : df / (e * (df - 2)) };
}

/** How many random effects the rows of a block have. */
function randomEffectsIn(
  fit: LinearMixedFit,
  groups: readonly Int32Array[],
  rows: Int32Array,
): number {
  return fit.engine.levels.reduce(
    (sum, level, k) => sum + level.q * new Set(rows.map((i) => groups[k]![i]!)).size,
    0,
  );
}

function workingCovariance(fit: LinearMixedFit): Matrix {
  const r = rMatrix(fit);
  const { covariance } = fixedEstimates(fit.engine, fit.sigma ** 2);
  return multiplyMatrices(multiplyMatrices(r, matrixFromRows(covariance)), transposeMatrix(r));
}

const rMatrix = (fit: LinearMixedFit) =>
  makeMatrix(fit.engine.gamma0.length, fit.engine.gamma0.length, fit.engine.r.slice());

function inverseR(fit: LinearMixedFit): Matrix {
  const { r, gamma0 } = fit.engine;
  const p = gamma0.length;
  const triangle = makeMatrix(p, p, r);
  const out = makeMatrix(p, p);
  for (let c = 0; c < p; c++) {
    const e = new Float64Array(p);
    e[c] = 1;
    solveUpperTriangular(triangle, e).forEach((each, i) => {
      out.data[i * p + c] = each;
    });
  }
  return out;
}

function twiceInverse(information: Matrix): Matrix {
  const n = information.rows;
  const scale = Float64Array.from(
    { length: n },
    (_, i) => 1 / Math.sqrt(Math.abs(information.data[i * n + i]!) || 1),
  );
  const scaled = makeMatrix(n, n);
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++)
      scaled.data[i * n + j] = information.data[i * n + j]! * scale[i]! * scale[j]!;
  const { values, vectors } = symmetricEigen(scaled);
  const out = makeMatrix(n, n);
  for (let k = 0; k < n; k++) {
    if (!(Math.abs(values[k]!) > 1e-12 * Math.abs(values[0]!))) continue;
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++)
        out.data[i * n + j]! +=
          (2 * vectors.data[i * n + k]! * vectors.data[j * n + k]! * scale[i]! * scale[j]!) /
          values[k]!;
  }
  return out;
}

function addTo(a: Matrix, b: Matrix, factor: number): void {
  for (let i = 0; i < a.data.length; i++) a.data[i]! += factor * b.data[i]!;
}

function traceOf(a: Matrix): number {
  let s = 0;
  for (let i = 0; i < a.rows; i++) s += a.data[i * a.cols + i]!;
  return s;
}

const rowsOf = (m: Matrix) =>
  Array.from({ length: m.rows }, (_, i) =>
    Array.from(m.data.subarray(i * m.cols, (i + 1) * m.cols)),
  );
