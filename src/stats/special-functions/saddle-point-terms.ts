import { logGamma, logGammaOnePlus, stirlingError } from "./gamma-function.js";

/**
 * The deviance part x log(x / m) + m - x, without loss where x is near m.
 * Source: C. Loader, Fast and accurate computation of binomial probabilities (2000).
 */
export function devianceTerm(x: number, m: number): number {
  const d = x - m;
  if (Math.abs(d) < 0.1 * (x + m)) {
    const v = d / (x + m);
    let s = d * v;
    let term = 2 * x * v;
    for (let j = 1; j < 200; j++) {
      term *= v * v;
      const next = s + term / (2 * j + 1);
      if (next === s) return s;
      s = next;
    }
    return s;
  }
  return x * Math.log(x / m) - d;
}

/**
 * The Poisson term m^x exp(-m) / Gamma(x + 1) for any real x >= 0, m >= 0; its
 * relative error grows only with the size of the exponent, not with x and m.
 *
 * @example poissonTerm(3, 2) // 0.1804470443154836
 */
export function poissonTerm(x: number, m: number): number {
  if (m === 0) return x === 0 ? 1 : 0;
  if (x === 0) return Math.exp(-m);
  if (x < 1) return Math.exp(x * Math.log(m) - m - logGammaOnePlus(x));
  return Math.exp(-stirlingError(x) - devianceTerm(x, m)) / Math.sqrt(2 * Math.PI * x);
}

/**
 * The binomial term C(n, k) p^k q^(n - k), q = 1 - p given for itself so that
 * neither loses digits.
 *
 * @example binomialTerm(2, 4, 0.5, 0.5) // 0.375
 */
export function binomialTerm(k: number, n: number, p: number, q: number): number {
  if (p === 0) return k === 0 ? 1 : 0;
  if (q === 0) return k === n ? 1 : 0;
  if (k === 0) return Math.exp(n * (p < 0.5 ? Math.log1p(-p) : Math.log(q)));
  if (k === n) return Math.exp(n * (q < 0.5 ? Math.log1p(-q) : Math.log(p)));
  const correction = stirlingError(n) - stirlingError(k) - stirlingError(n - k);
  const exponent = correction - devianceTerm(k, n * p) - devianceTerm(n - k, n * q);
  return Math.exp(exponent) * Math.sqrt(n / (2 * Math.PI * k * (n - k)));
}

/** x^a y^b / Beta(a, b) with y = 1 - x, the common factor of everything about the beta law. */
export function betaTerm(a: number, b: number, x: number, y: number): number {
  return betaTermOf(a, b)(x, y);
}

/** The same for many x: what a and b alone say is worked out once. */
export function betaTermOf(a: number, b: number): (x: number, y: number) => number {
  const n = a + b;
  if (n < 2) {
    const logBetaHere =
      logGammaOnePlus(a) + logGammaOnePlus(b) - logGamma(n + 1) + Math.log(n / (a * b));
    return (x, y) => Math.exp(a * logOf(x, y) + b * logOf(y, x) - logBetaHere);
  }
  const correction = stirlingError(n) - stirlingError(a) - stirlingError(b);
  const root = Math.sqrt((a * b) / (2 * Math.PI * n));
  return (x, y) => Math.exp(correction - devianceTerm(a, n * x) - devianceTerm(b, n * y)) * root;
}

function logOf(x: number, complement: number): number {
  return x < 0.5 ? Math.log(x) : Math.log1p(-complement);
}
