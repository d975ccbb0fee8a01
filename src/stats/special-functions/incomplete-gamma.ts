import { logGammaOnePlus } from "./gamma-function.js";
import { poissonTerm } from "./saddle-point-terms.js";

/** Both tails, each computed for itself where it is the small one. */
export interface Tails {
  readonly lower: number;
  readonly upper: number;
}

/**
 * The regularised incomplete gamma functions P(a, x) and Q(a, x) = 1 - P, a > 0,
 * x >= 0. Source: DLMF 8.7.1 (series), 8.9.2 (continued fraction, evaluated by
 * the modified Lentz method).
 *
 * @example incompleteGamma(2.5, 3) // { lower: 0.6937..., upper: 0.3062... }
 */
export function incompleteGamma(a: number, x: number): Tails {
  if (Number.isNaN(a) || Number.isNaN(x)) return { lower: Number.NaN, upper: Number.NaN };
  if (x <= 0) return { lower: 0, upper: 1 };
  if (x === Number.POSITIVE_INFINITY) return { lower: 1, upper: 0 };
  if (a < 1 && x < 1.5) return smallShape(a, x);
  if (x < a + 1) {
    const lower = poissonTerm(a, x) * seriesSum(a, x);
    return { lower, upper: Math.max(0, 1 - lower) };
  }
  const upper = a * poissonTerm(a, x) * continuedFraction(a, x);
  return { lower: Math.max(0, 1 - upper), upper };
}

/** 1 + x/(a+1) + x^2/((a+1)(a+2)) + ... */
function seriesSum(a: number, x: number): number {
  let term = 1;
  let s = 1;
  for (let n = 1; n < 1e8; n++) {
    term *= x / (a + n);
    s += term;
    if (term < s * 1e-17) break;
  }
  return s;
}

/** Gamma(a, x) e^x x^-a. */
function continuedFraction(a: number, x: number): number {
  const tiny = 1e-300;
  let b = x + 1 - a;
  let c = 1 / tiny;
  let d = 1 / (b === 0 ? tiny : b);
  let h = d;
  for (let n = 1; n < 1e8; n++) {
    const an = -n * (n - a);
    b += 2;
    d = an * d + b;
    if (Math.abs(d) < tiny) d = tiny;
    c = b + an / c;
    if (Math.abs(c) < tiny) c = tiny;
    d = 1 / d;
    const step = d * c;
    h *= step;
    if (Math.abs(step - 1) < 1e-16) break;
  }
  return h;
}

/** a < 1: the upper tail can be small although x is small, so it gets its own sum. */
function smallShape(a: number, x: number): Tails {
  let term = 1;
  let s = 0;
  for (let n = 1; n < 200; n++) {
    term *= -x / n;
    const add = term / (a + n);
    s += add;
    if (Math.abs(add) < 1e-18 * Math.abs(s)) break;
  }
  const logFront = a * Math.log(x) - logGammaOnePlus(a);
  const front = Math.exp(logFront);
  const lower = front * (1 + a * s);
  const upper = -Math.expm1(logFront) - front * a * s;
  return { lower: Math.min(1, lower), upper: Math.max(0, upper) };
}
