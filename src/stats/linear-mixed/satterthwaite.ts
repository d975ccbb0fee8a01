import { makeMatrix } from "../linear-algebra/matrix.js";
import { symmetricEigen } from "../linear-algebra/symmetric-eigen.js";
import { hessianByDifferences } from "../numeric/minimise-smooth.js";
import { fixedEstimates, type LinearMixedFit } from "./fit.js";

/**
 * What Satterthwaite degrees of freedom need: the covariance of the variance
 * parameters and how the covariance of the fixed effects moves with them.
 * Computed once per fit and handed to every contrast.
 *
 * Source: Satterthwaite (1946); Fai and Cornelius (1996) for several rows;
 * Kuznetsova et al. (2017) J. Stat. Software 82(13) for mixed models.
 */
export interface SatterthwaiteBasis {
  /** Covariance of (theta, log sigma^2). */
  readonly parameterCovariance: Float64Array;
  readonly size: number;
  /** d covariance(beta) / d parameter, one p x p array (rows) per parameter. */
  readonly slopes: readonly (readonly (readonly number[])[])[];
}

export function satterthwaiteBasis(fit: LinearMixedFit): SatterthwaiteBasis {
  const { engine, method, workingSigma: sigma } = fit;
  const x = Float64Array.from(fit.theta);
  const k = x.length;
  const p = fit.fixed.kept.length;
  const df = method === "ML" ? fit.n : fit.n - p;
  const factor = (method === "ML" ? fit.n / (fit.n - p) : 1) * sigma * sigma;
  const profiled = hessianByDifferences((at, g) => engine.deviance(at, method, g), x);
  const logRss = new Float64Array(k);
  const slopes: number[][][] = [];
  const at = Float64Array.from(x);
  for (let j = 0; j < k; j++) {
    const h = 1e-3 * Math.max(0.1, Math.abs(x[j]!));
    const sample = (shift: number) => {
      at[j] = x[j]! + shift * h;
      engine.deviance(at, method, null);
      const { covariance } = fixedEstimates(engine, factor);
      return { covariance, log: Math.log(engine.profile.rss) };
    };
    const [a, b, c, d] = [sample(-2), sample(-1), sample(1), sample(2)];
    at[j] = x[j]!;
    const mix = (f: (s: typeof a) => number) => (8 * (f(c!) - f(b!)) - (f(d!) - f(a!))) / (12 * h);
    logRss[j] = mix((s) => s.log);
    slopes.push(
      Array.from({ length: p }, (_, r) =>
        Array.from({ length: p }, (__, s) => mix((e) => e.covariance[r]![s]!)),
      ),
    );
  }
  engine.deviance(x, method, null);
  slopes.push(fit.fixed.covariance.map((row) => [...row]));
  // Hessian of -2 log-likelihood with sigma kept: see the profiled one plus these terms.
  const size = k + 1;
  const h = makeMatrix(size, size);
  for (let i = 0; i < k; i++) {
    for (let j = 0; j < k; j++) {
      h.data[i * size + j] = profiled[i * k + j]! + df * logRss[i]! * logRss[j]!;
    }
    h.data[i * size + k] = -df * logRss[i]!;
    h.data[k * size + i] = -df * logRss[i]!;
  }
  h.data[k * size + k] = df;
  return { parameterCovariance: twiceInverse(h.data, size), size, slopes };
}

/** 2 H^-1 without the directions in which the likelihood is flat. */
function twiceInverse(h: Float64Array, n: number): Float64Array {
  const { values, vectors } = symmetricEigen(makeMatrix(n, n, h));
  const out = new Float64Array(n * n);
  for (let k = 0; k < n; k++) {
    if (!(values[k]! > 1e-8 * values[0]!)) continue;
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        out[i * n + j]! += (2 * vectors.data[i * n + k]! * vectors.data[j * n + k]!) / values[k]!;
      }
    }
  }
  return out;
}

/** Degrees of freedom of one contrast (over the kept columns). */
export function satterthwaiteDf(
  fit: LinearMixedFit,
  basis: SatterthwaiteBasis,
  contrast: ArrayLike<number>,
): number {
  const form = (m: readonly (readonly number[])[]) => {
    let s = 0;
    for (let i = 0; i < m.length; i++)
      for (let j = 0; j < m.length; j++) s += contrast[i]! * m[i]![j]! * contrast[j]!;
    return s;
  };
  const variance = form(fit.fixed.covariance);
  const g = basis.slopes.map(form);
  let spread = 0;
  for (let i = 0; i < basis.size; i++)
    for (let j = 0; j < basis.size; j++)
      spread += g[i]! * basis.parameterCovariance[i * basis.size + j]! * g[j]!;
  return (2 * variance * variance) / spread;
}

/** Denominator degrees of freedom of an F test whose rows are uncorrelated contrasts with these df. */
export function combineSatterthwaite(df: readonly number[]): number {
  if (df.length === 1) return df[0]!;
  const spread = Math.max(...df) - Math.min(...df);
  if (spread < 1e-8 * Math.max(...df)) return df[0]!;
  if (df.some((v) => v <= 2)) return 2;
  const e = df.reduce((s, v) => s + v / (v - 2), 0);
  return (2 * e) / (e - df.length);
}
