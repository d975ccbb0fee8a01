/** Euler's constant. */
const euler = 0.5772156649015329;
const halfLogTwoPi = 0.9189385332046728;

/** zeta(k) - 1 for k = 2, 3, ...; the series of log Gamma about 1 is made of them. */
const zetaMinusOne = [
  0.6449340668482264, 0.2020569031595943, 0.08232323371113819, 0.03692775514336993,
  0.01734306198444914, 0.008349277381922827, 0.00407735619794434, 0.0020083928260822143,
  0.0009945751278180853, 0.0004941886041194645, 0.0002460865533080483, 0.00012271334757848915,
  6.124813505870483e-5, 3.058823630702049e-5, 1.528225940865187e-5, 7.637197637899763e-6,
  3.81729326499984e-6, 1.908212716553939e-6, 9.539620338727962e-7, 4.769329867878064e-7,
  2.38450502727733e-7, 1.1921992596531106e-7, 5.960818905125948e-8, 2.980350351465228e-8,
  1.4901554828365043e-8, 7.45071178983543e-9, 3.725334024788457e-9, 1.862659723513049e-9,
  9.313274324196682e-10, 4.656629065033784e-10, 2.3283118336765053e-10, 1.164155017270052e-10,
  5.820772087902701e-11, 2.9103850444971e-11, 1.4551921891041985e-11, 7.275959835057482e-12,
  3.637979547378651e-12, 1.818989650307066e-12,
];

/** Stirling's series of log Gamma: B(2k) / (2k (2k - 1)). */
const stirlingSeries = [
  1 / 12,
  -1 / 360,
  1 / 1260,
  -1 / 1680,
  1 / 1188,
  -691 / 360360,
  1 / 156,
  -3617 / 122400,
  43867 / 244188,
];

/**
 * log |Gamma(x)|, relative error about 1e-15 (absolute near its zeros of negative x).
 * `Infinity` at 0, -1, -2, ... Definition: NIST Digital Library of Mathematical
 * Functions, 5.2; series 5.7.3 and 5.11.1.
 *
 * @example logGamma(10) // 12.801827480081469 = log(9!)
 */
export function logGamma(x: number): number {
  if (Number.isNaN(x)) return x;
  if (x === Number.POSITIVE_INFINITY) return x;
  if (x <= 0) {
    if (Number.isInteger(x)) return Number.POSITIVE_INFINITY;
    return Math.log(Math.PI / Math.abs(Math.sin(Math.PI * (x % 2)))) - logGamma(1 - x);
  }
  if (x >= 15) return (x - 0.5) * Math.log(x) - x + halfLogTwoPi + stirlingTail(x);
  if (x < 0.5) return logGammaOnePlus(x) - Math.log(x);
  if (x <= 1.5) return logGammaOnePlus(x - 1);
  if (x < 2.5) {
    // log Gamma(2 + e) = log(1 + e) + log Gamma(1 + e), in which log(1 + e) cancels.
    return aboutOne(x - 2) + (x - 2) * (1 - euler);
  }
  let product = 1;
  let base = x;
  while (base >= 2.5) {
    base -= 1;
    product *= base;
  }
  return Math.log(product) + logGamma(base);
}

/**
 * log Gamma(1 + x) without loss near x = 0 (x > -1).
 *
 * @example logGammaOnePlus(1e-10) // -5.7721566481928616e-11
 */
export function logGammaOnePlus(x: number): number {
  if (Math.abs(x) > 0.5) return logGamma(1 + x);
  return aboutOne(x) + x * (1 - euler) - Math.log1p(x);
}

/** Gamma(x). @example gammaFunction(0.5) // 1.772453850905516 = sqrt(pi) */
export function gammaFunction(x: number): number {
  if (x > 0) return Number.isInteger(x) && x < 19 ? factorial(x - 1) : Math.exp(logGamma(x));
  if (Number.isInteger(x)) return Number.NaN;
  const sign = Math.floor(x) % 2 === 0 ? 1 : -1;
  return sign * Math.exp(logGamma(x));
}

/**
 * log Beta(a, b) for a, b > 0, without the cancellation of three large log Gammas.
 *
 * @example logBeta(2, 3) // -2.48491
 */
export function logBeta(a: number, b: number): number {
  const small = Math.min(a, b);
  const large = Math.max(a, b);
  if (large < 15) return logGamma(small) + (logGamma(large) - logGamma(large + small));
  // Stirling's form for the two large ones.
  const difference =
    (large - 0.5) * -Math.log1p(small / large) -
    small * Math.log(large + small) +
    small +
    stirlingTail(large) -
    stirlingTail(large + small);
  return logGamma(small) + difference;
}

/**
 * How far log Gamma(x + 1) lies from Stirling's approximation:
 * log Gamma(x + 1) - ((x + 1/2) log x - x + log(2 pi) / 2), x > 0.
 */
export function stirlingError(x: number): number {
  if (x >= 15) return stirlingTail(x);
  return logGammaOnePlus(x) - (x + 0.5) * Math.log(x) + x - halfLogTwoPi;
}

/**
 * digamma(x), the derivative of log Gamma. DLMF 5.11.2 after shifting up.
 *
 * @example digamma(1) // -0.5772156649015329
 */
export function digamma(x: number): number {
  if (x <= 0) {
    if (Number.isInteger(x)) return Number.NaN;
    return digamma(1 - x) - Math.PI / Math.tan(Math.PI * x);
  }
  let shift = 0;
  let z = x;
  while (z < 12) {
    shift += 1 / z;
    z += 1;
  }
  const w = 1 / (z * z);
  const series =
    w *
    (1 / 12 -
      w *
        (1 / 120 -
          w * (1 / 252 - w * (1 / 240 - w * (1 / 132 - w * (691 / 32760 - w * (1 / 12)))))));
  return Math.log(z) - 0.5 / z - series - shift;
}

/** trigamma(x), the second derivative of log Gamma, x > 0. @example trigamma(1) // 1.6449340668482264 */
export function trigamma(x: number): number {
  let shift = 0;
  let z = x;
  while (z < 15) {
    shift += 1 / (z * z);
    z += 1;
  }
  const w = 1 / (z * z);
  const series =
    w * (1 / 6 - w * (1 / 30 - w * (1 / 42 - w * (1 / 30 - w * (5 / 66 - w * (691 / 2730))))));
  return 1 / z + 0.5 * w + series / z + shift;
}

/** The series sum over k >= 2 of (zeta(k) - 1) (-x)^k / k, |x| <= 1/2. */
function aboutOne(x: number): number {
  let s = 0;
  for (let i = zetaMinusOne.length - 1; i >= 0; i--) {
    const k = i + 2;
    s = zetaMinusOne[i]! / k - x * s;
  }
  return x * x * s;
}

function stirlingTail(x: number): number {
  const w = 1 / (x * x);
  let s = 0;
  for (let i = stirlingSeries.length - 1; i >= 0; i--) s = stirlingSeries[i]! + w * s;
  return s / x;
}

function factorial(n: number): number {
  let f = 1;
  for (let i = 2; i <= n; i++) f *= i;
  return f;
}
