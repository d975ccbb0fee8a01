import { requireProbability, type Tail } from "./tail.js";

const rootTwoPi = 2.5066282746310002;
const halfLogTwoPi = 0.9189385332046728;

/** Density of the standard normal law. @example normalDensity(0) // 0.3989422804014327 */
export function normalDensity(z: number): number {
  return Math.exp(-0.5 * z * z) / rootTwoPi;
}

/** log density of the standard normal law. */
export function normalLogDensity(z: number): number {
  return -0.5 * z * z - halfLogTwoPi;
}

/**
 * P(Z <= z) (or P(Z > z) with `tail` "upper") of the standard normal law,
 * relative error about 1e-15 down to 1e-308. Source: W. J. Cody, Rational
 * Chebyshev approximations for the error function (1969), up to |z| = 5.65;
 * beyond, Laplace's continued fraction (DLMF 7.9.1).
 *
 * @example normalCumulative(1.96) // 0.9750021048517795
 */
export function normalCumulative(z: number, tail: Tail = "lower"): number {
  const x = tail === "lower" ? z : -z;
  const y = Math.abs(x);
  if (Number.isNaN(x)) return x;
  if (y <= 0.67448975) return 0.5 + centre(x);
  const small = y > 40 ? 0 : y < 5.656854 ? middle(y) : (splitExp(y) / rootTwoPi) * millsFar(y);
  return x < 0 ? small : 1 - small;
}

/**
 * log P(Z <= z), finite for every finite z.
 *
 * @example normalLogCumulative(-40) // -804.6084420137538
 */
export function normalLogCumulative(z: number, tail: Tail = "lower"): number {
  const x = tail === "lower" ? z : -z;
  if (x > -5.6) {
    return x > 0 ? Math.log1p(-normalCumulative(-x)) : Math.log(normalCumulative(x));
  }
  return normalLogDensity(x) + Math.log(millsFar(-x));
}

/**
 * The value below which (with `tail` "upper": above which) a share `p` of the
 * standard normal law lies. Source: M. J. Wichura, Algorithm AS 241 (1988),
 * then one Halley step.
 *
 * @throws UsageError when p is outside 0 to 1.
 * @example normalQuantile(0.975) // 1.959963984540054
 */
export function normalQuantile(p: number, tail: Tail = "lower"): number {
  requireProbability("normalQuantile", p);
  if (Number.isNaN(p)) return p;
  const sign = tail === "lower" ? 1 : -1;
  if (p === 0) return sign * Number.NEGATIVE_INFINITY;
  if (p === 1) return sign * Number.POSITIVE_INFINITY;
  const fromCentre = p - 0.5;
  if (Math.abs(fromCentre) <= 0.425) {
    return sign * fromCentre * ratio(0.180625 - fromCentre * fromCentre, nearA, nearB);
  }
  const small = fromCentre < 0 ? p : 1 - p;
  const r = Math.sqrt(-Math.log(small));
  const z = r <= 5 ? ratio(r - 1.6, midC, midD) : ratio(r - 5, farE, farF);
  return sign * (fromCentre < 0 ? -polish(z, small) : polish(z, small));
}

/** One Halley step on log P(Z > z) = log small; sharpens the last digits far out. */
function polish(z: number, small: number): number {
  const upper = normalCumulative(z, "upper");
  if (!(upper > 1e-300)) return z;
  const step = ((upper - small) * rootTwoPi) / Math.exp(-0.5 * z * z);
  return z + step / (1 + (z * step) / 2);
}

/** exp(-y^2 / 2), y^2 split so that the exponent keeps its digits. */
function splitExp(y: number): number {
  const coarse = Math.trunc(y * 16) / 16;
  return Math.exp(-0.5 * coarse * coarse) * Math.exp(-0.5 * (y - coarse) * (y + coarse));
}

/** P(Z > y) / density(y) for y >= 5.6. */
function millsFar(y: number): number {
  let f = y;
  for (let k = 40; k >= 1; k--) f = y + k / f;
  return 1 / f;
}

function centre(x: number): number {
  const w = x * x;
  let above = 0.06568233791820745 * w;
  let below = w;
  for (let i = 0; i < 3; i++) {
    above = (above + centreA[i]!) * w;
    below = (below + centreB[i]!) * w;
  }
  return (x * (above + centreA[3]!)) / (below + centreB[3]!);
}

function middle(y: number): number {
  let above = 1.0765576773720192e-8 * y;
  let below = y;
  for (let i = 0; i < 7; i++) {
    above = (above + middleC[i]!) * y;
    below = (below + middleD[i]!) * y;
  }
  return (splitExp(y) * (above + middleC[7]!)) / (below + middleD[7]!);
}

/** above(x) / below(x), coefficients from the constant term up. */
function ratio(x: number, above: readonly number[], below: readonly number[]): number {
  let a = 0;
  let b = 0;
  for (let i = 7; i >= 0; i--) {
    a = a * x + above[i]!;
    b = b * x + below[i]!;
  }
  return a / b;
}

const centreA = [2.2352520354606837, 161.02823106855587, 1067.6894854603709, 18154.98125334356];
const centreB = [47.202581904688245, 976.0985517377767, 10260.932208618979, 45507.78933502673];
const middleC = [
  0.39894151208813466, 8.883149794388375, 93.50665613217785, 597.2702763948002, 2494.5375852903726,
  6848.190450536283, 11602.65143764735, 9842.714838383978,
];
const middleD = [
  22.266688044328117, 235.387901782625, 1519.3775994075547, 6485.558298266761, 18615.571640885097,
  34900.95272114598, 38912.00328609327, 19685.429676859992,
];
const nearA = [
  3.3871328727963665, 133.14166789178438, 1971.5909503065513, 13731.69376550946, 45921.95393154987,
  67265.7709270087, 33430.57558358813, 2509.0809287301227,
];
const nearB = [
  1, 42.31333070160091, 687.1870074920579, 5394.196021424751, 21213.794301586597, 39307.89580009271,
  28729.085735721943, 5226.495278852854,
];
const midC = [
  1.4234371107496835, 4.630337846156546, 5.769497221460691, 3.6478483247632045, 1.2704582524523684,
  0.2417807251774506, 0.022723844989269184, 0.0007745450142783414,
];
const midD = [
  1, 2.053191626637759, 1.6763848301838038, 0.6897673349851, 0.14810397642748008,
  0.015198666563616457, 0.0005475938084995345, 1.0507500716444169e-9,
];
const farE = [
  6.657904643501103, 5.463784911164114, 1.7848265399172913, 0.29656057182850487,
  0.026532189526576124, 0.0012426609473880784, 2.7115555687434876e-5, 2.0103343992922881e-7,
];
const farF = [
  1, 0.599832206555888, 0.1369298809227358, 0.014875361290850615, 0.0007868691311456133,
  1.8463183175100548e-5, 1.421511758316446e-7, 2.0442631033899397e-15,
];
