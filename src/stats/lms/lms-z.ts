/** Box-Cox power L, median M and coefficient of variation S at one point. */
export interface Lms {
  readonly l: number;
  readonly m: number;
  readonly s: number;
}

/** Below this a power is zero: products with it would underflow. */
const tiny = 1e-150;

/**
 * z-score of a positive value under a Box-Cox normal distribution:
 * ((y/M)^L - 1)/(L S), and ln(y/M)/S at L = 0. Written with `expm1`, so it stays
 * exact as L goes through zero. `null` where y, M or S is not above zero.
 *
 * Source: Cole (1990) Eur J Clin Nutr 44:45-60; Cole and Green (1992) Stat Med 11:1305-1319.
 *
 * @example lmsZ(9, { l: -0.2022, m: 8.9462, s: 0.12267 }) // 0.0488471776
 */
export function lmsZ(y: number, { l, m, s }: Lms): number | null {
  if (!(y > 0 && m > 0 && s > 0) || !Number.isFinite(l)) return null;
  const log = Math.log(y / m);
  const z = Math.abs(l) < tiny ? log / s : Math.expm1(l * log) / (l * s);
  return Number.isFinite(z) ? z : null;
}

/**
 * The value at z-score z: M (1 + L S z)^(1/L), and M exp(S z) at L = 0. `null`
 * where 1 + L S z is not above zero: that centile does not exist.
 *
 * @example lmsCentile(-2, { l: 0.0645, m: 9.646, s: 0.10925 }) // 7.740676
 */
export function lmsCentile(z: number, { l, m, s }: Lms): number | null {
  if (!(m > 0 && s > 0) || !Number.isFinite(l) || !Number.isFinite(z)) return null;
  if (Math.abs(l) < tiny) return m * Math.exp(s * z);
  const base = 1 + l * s * z;
  return base > 0 ? m * Math.exp(Math.log1p(l * s * z) / l) : null;
}

/**
 * z-score that beyond -3 and +3 counts in steps of the distance between the
 * second and third standard deviation, because the power distribution has few
 * data behind it there: z > 3 gives 3 + (y - SD3)/(SD3 - SD2), and likewise
 * below -3. `null` where a needed centile does not exist.
 *
 * Source: World Health Organization (2006) Child Growth Standards, Methods and
 * development, chapter 7 (the restricted application of the LMS method).
 *
 * @example restrictedLmsZ(6, { l: 0.0645, m: 9.646, s: 0.10925 }) // -4.136593212
 */
export function restrictedLmsZ(y: number, lms: Lms): number | null {
  const z = lmsZ(y, lms);
  if (z === null || Math.abs(z) <= 3) return z;
  const sign = Math.sign(z);
  const two = lmsCentile(2 * sign, lms);
  const three = lmsCentile(3 * sign, lms);
  if (two === null || three === null || two === three) return null;
  return sign * 3 + (y - three) / Math.abs(three - two);
}
