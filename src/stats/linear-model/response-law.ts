import { logGamma } from "../special-functions/gamma-function.js";

/**
 * Laws of the response: `"binomial"` (shares 0..1 with a logit link; `weights` are
 * numbers of trials), `"poisson"`, `"gamma"` and `"negative-binomial"` (log link).
 */
export type Family = "binomial" | "poisson" | "gamma" | "negative-binomial";

/** Link, variance and deviance of a law. */
export interface Law {
  readonly link: (m: number) => number;
  readonly inverse: (eta: number) => number;
  /** d m / d eta. */
  readonly slope: (m: number) => number;
  readonly variance: (m: number) => number;
  readonly deviance: (y: number, m: number) => number;
}

/** log density of y at mean m with weight w; `extra` is gamma's dispersion or the negative binomial's shape. */
export function logDensity(y: number, m: number, w: number, family: Family, extra: number): number {
  if (family === "poisson") return w * (y * Math.log(m) - m - logGamma(y + 1));
  if (family === "binomial") {
    const k = y * w;
    return (
      logGamma(w + 1) -
      logGamma(k + 1) -
      logGamma(w - k + 1) +
      k * Math.log(m) +
      (w - k) * Math.log1p(-m)
    );
  }
  if (family === "gamma") {
    const a = 1 / extra;
    return w * (a * Math.log((a * y) / m) - (a * y) / m - Math.log(y) - logGamma(a));
  }
  const s = extra;
  return (
    w *
    (logGamma(s + y) -
      logGamma(s) -
      logGamma(y + 1) +
      s * Math.log(s / (s + m)) +
      (y > 0 ? y * Math.log(m / (s + m)) : 0))
  );
}

/** The law of a family; `shape` for the negative binomial only. */
export function lawOf(family: Family, shape: number | null): Law {
  const xlog = (y: number, m: number) => (y === 0 ? 0 : y * Math.log(y / m));
  if (family === "binomial") {
    return {
      link: (m) => Math.log(m / (1 - m)),
      inverse: (e) => 1 / (1 + Math.exp(-e)),
      slope: (m) => Math.max(1e-16, m * (1 - m)),
      variance: (m) => Math.max(1e-16, m * (1 - m)),
      deviance: (y, m) => 2 * (xlog(y, m) + xlog(1 - y, 1 - m)),
    };
  }
  const log = { link: Math.log, inverse: Math.exp, slope: (m: number) => Math.max(1e-16, m) };
  if (family === "poisson") {
    return {
      ...log,
      variance: (m) => Math.max(1e-16, m),
      deviance: (y, m) => 2 * (xlog(y, m) - (y - m)),
    };
  }
  if (family === "gamma") {
    return {
      ...log,
      variance: (m) => m * m,
      deviance: (y, m) => 2 * ((y - m) / m - Math.log(y / m)),
    };
  }
  const s = shape!;
  return {
    ...log,
    variance: (m) => m + (m * m) / s,
    deviance: (y, m) => 2 * (xlog(y, m) - (y + s) * Math.log((y + s) / (m + s))),
  };
}
