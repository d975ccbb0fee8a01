import type { GrowthCurve } from "../growth-curve.js";

/**
 * Schnute's curve: the masses at two chosen ages and two shapes. It holds the
 * other curves as special cases and does not presume a final mass. The two ages
 * t1 and t2 are the first and last of the series.
 */
export const schnute: GrowthCurve = {
  name: "schnute",
  title: "Schnute",
  equation:
    "W(t) = (y1^b + (y2^b - y1^b) (1 - exp(-a (t - t1))) / (1 - exp(-a (t2 - t1))))^(1 / b)",
  parameters: [
    { name: "y1", meaning: "the mass at the first age t1", kind: "mass", lower: 0 },
    { name: "y2", meaning: "the mass at the last age t2", kind: "mass", lower: 0 },
    { name: "a", meaning: "the rate at which the relative gain falls", kind: "rate" },
    { name: "b", meaning: "the shape of the bend", kind: "shape" },
  ],
  linear: [],
  domain: "ages at which the bracket is above zero",
  usesOrigin: false,
  diverseBy: 3,
  tries: 3,
  constants: (ages) => [ages[0] ?? 0, ages[ages.length - 1] ?? 1],
  gradient: (t, p, out, at, c) => {
    const [y1, y2, a, b] = [p[0]!, p[1]!, p[2]!, p[3]!];
    const tau = t - c[0]!;
    const whole = c[1]! - c[0]!;
    const r = Math.log(y2 / y1);
    const g = part(a, tau, whole);
    const grown = Math.exp(b * r);
    const base = 1 + g * Math.expm1(b * r);
    if (!(base > 0)) return Number.NaN;
    const late = (g * grown) / base;
    const small = Math.abs(b * r) < 1e-3;
    const w = y1 * Math.exp(small ? cumulants(g, r, b) : Math.log(base) / b);
    const byPart = small ? meanSlope(g, r, b) : Math.expm1(b * r) / (base * b);
    out[at] = (w * (1 - late)) / y1;
    out[at + 1] = (w * late) / y2;
    out[at + 2] = w * byPart * g * (tau * psi(a * tau) - whole * psi(a * whole));
    out[at + 3] = w * (small ? cumulantSlope(g, r, b) : (late * r - Math.log(base) / b) / b);
    return w;
  },
  gain: (t, p, c) => {
    const [y1, y2, a, b] = [p[0]!, p[1]!, p[2]!, p[3]!];
    const tau = t - c[0]!;
    const whole = c[1]! - c[0]!;
    const r = Math.log(y2 / y1);
    const g = part(a, tau, whole);
    const base = 1 + g * Math.expm1(b * r);
    if (!(base > 0)) return Number.NaN;
    const small = Math.abs(b * r) < 1e-3;
    const w = y1 * Math.exp(small ? cumulants(g, r, b) : Math.log(base) / b);
    const byPart = small ? meanSlope(g, r, b) : Math.expm1(b * r) / (base * b);
    const byAge =
      Math.abs(a * whole) < 1e-13 ? 1 / whole : (a * Math.exp(-a * tau)) / -Math.expm1(-a * whole);
    return w * byPart * byAge;
  },
  starts: (series) => {
    const { w } = series;
    const y1 = Math.max(w[0]!, 1e-3 * series.heaviest);
    const y2 = w[w.length - 1]!;
    return [-3, -0.5, 0.5, 2, 5, 10].flatMap((a) =>
      [-4, -1, -0.1, 0.3, 1, 3].map((b) => [y1, y2, a / series.span, b]),
    );
  },
  inflection: (p, c) => {
    const [y1, y2, a, b] = [p[0]!, p[1]!, p[2]!, p[3]!];
    const whole = c[1]! - c[0]!;
    const r = Math.log(y2 / y1);
    const inside =
      Math.abs(b) < 1e-8
        ? Math.expm1(a * whole) / r
        : (b * (Math.exp(a * whole + b * r) - 1)) / Math.expm1(b * r);
    const age = c[1]! - Math.log(inside) / a;
    return Number.isFinite(age) ? age : null;
  },
  finalMass: (p, c) => {
    const [y1, y2, a, b] = [p[0]!, p[1]!, p[2]!, p[3]!];
    if (!(a > 0)) return null;
    const r = Math.log(y2 / y1);
    const g = 1 / -Math.expm1(-a * (c[1]! - c[0]!));
    const base = 1 + g * Math.expm1(b * r);
    if (!(base > 0)) return null;
    return y1 * Math.exp(Math.abs(b * r) < 1e-3 ? cumulants(g, r, b) : Math.log(base) / b);
  },
  citations: ["Schnute J (1981) Can J Fish Aquat Sci 38:1128-1140"],
};

/** (1 - exp(-a tau)) / (1 - exp(-a whole)); tau / whole where a is next to 0 (below that a denormal a loses all its digits). */
function part(a: number, tau: number, whole: number): number {
  return Math.abs(a * whole) < 1e-13 ? tau / whole : Math.expm1(-a * tau) / Math.expm1(-a * whole);
}

/** 1 / (exp(x) - 1) - 1 / x, the logarithmic derivative of (1 - exp(-x)) / x. */
function psi(x: number): number {
  if (Math.abs(x) < 0.1) {
    const s = x * x;
    return -0.5 + x * (1 / 12 - s * (1 / 720 - s * (1 / 30240 - s / 1209600)));
  }
  return 1 / Math.expm1(x) - 1 / x;
}

// log(1 + g (exp(b r) - 1)) / b near b = 0, by the cumulants of a two-point distribution.
function cumulants(g: number, r: number, b: number): number {
  const v = g * (1 - g);
  const s = b * r;
  return r * (g + s * v * (1 / 2 + s * ((1 - 2 * g) / 6 + (s * (1 - 6 * v)) / 24)));
}

function cumulantSlope(g: number, r: number, b: number): number {
  const v = g * (1 - g);
  const s = b * r;
  return r * r * v * (1 / 2 + s * ((1 - 2 * g) / 3 + (s * (1 - 6 * v)) / 8));
}

/** (exp(b r) - 1) / (b (1 + g (exp(b r) - 1))) near b = 0. */
function meanSlope(g: number, r: number, b: number): number {
  const s = b * r;
  const grown = r * (1 + s * (1 / 2 + s * (1 / 6 + s / 24)));
  return grown / (1 + g * Math.expm1(s));
}
