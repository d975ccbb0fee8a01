import type { Tails } from "./incomplete-gamma.js";
import { betaTermOf } from "./saddle-point-terms.js";

/**
 * The regularised incomplete beta function I_x(a, b) (lower) and its complement
 * (upper), a, b > 0, 0 <= x <= 1. Give `y` = 1 - x for itself when it is known
 * better than by subtraction. Source: DLMF 8.17.22, continued fraction, taken on the side where it converges fast.
 *
 * @example incompleteBeta(2, 3, 0.4).lower // 0.5248
 */
export function incompleteBeta(a: number, b: number, x: number, y = 1 - x): Tails {
  return incompleteBetaOf(a, b)(x, y);
}

/** The same for many x: what a and b alone say is worked out once. */
export function incompleteBetaOf(a: number, b: number): (x: number, y: number) => Tails {
  const smallOf = smallShareOf(a, b);
  return (x, y) => {
    const small = smallOf(x, y);
    const [direct, rest] = [Math.min(1, small), Math.max(0, 1 - small)];
    return isLower(a, b, x) ? { lower: direct, upper: rest } : { lower: rest, upper: direct };
  };
}

/** One share alone, for many x; see {@link incompleteBeta}. */
export function betaShareOf(
  a: number,
  b: number,
): (x: number, y: number, side: keyof Tails) => number {
  const smallOf = smallShareOf(a, b);
  return (x, y, side) => {
    const small = smallOf(x, y);
    return isLower(a, b, x) === (side === "lower") ? Math.min(1, small) : Math.max(0, 1 - small);
  };
}

/** On which side of x the continued fraction converges fast; that share it gives by itself. */
const isLower = (a: number, b: number, x: number) => x < (a + 1) / (a + b + 2);

function smallShareOf(a: number, b: number): (x: number, y: number) => number {
  const frontOf = betaTermOf(a, b);
  return (x, y) => {
    if (Number.isNaN(a + b + x + y)) return Number.NaN;
    if (x <= 0 || y <= 0) return 0;
    const front = frontOf(x, y);
    return (
      front * (isLower(a, b, x) ? continuedFraction(a, b, x, y) : continuedFraction(b, a, y, x))
    );
  };
}

/**
 * Beta(a, b) I_x(a, b) / (x^a y^b) for x below the mean: the even part of the
 * continued fraction, written in y and in (a + b) y - b so that nothing cancels
 * when x is next to 1. Source: DiDonato and Morris, ACM Algorithm 708 (1992).
 */
function continuedFraction(a: number, b: number, x: number, y: number): number {
  const lambda = x < y ? a - (a + b) * x : (a + b) * y - b;
  const c = 1 + lambda;
  const c0 = b / a;
  const c1 = 1 + 1 / a;
  let p = 1;
  let s = a + 1;
  let above = 0;
  let below = 1;
  let nextAbove = 1;
  let nextBelow = c / c1;
  let ratio = c1 / c;
  for (let n = 1; n < 1e7; n++) {
    const t = n / a;
    const w = n * (b - n) * x;
    const e = a / s;
    const alpha = p * (p + c0) * e * e * (w * x);
    const beta = n + w / s + ((1 + t) / (c1 + t + t)) * (c + n * (y + 1));
    p = 1 + t;
    s += 2;
    const newAbove = alpha * above + beta * nextAbove;
    const newBelow = alpha * below + beta * nextBelow;
    above = nextAbove / newBelow;
    below = nextBelow / newBelow;
    nextAbove = newAbove / newBelow;
    nextBelow = 1;
    const before = ratio;
    ratio = nextAbove;
    if (Math.abs(ratio - before) <= 1e-16 * Math.abs(ratio)) break;
  }
  return ratio;
}
