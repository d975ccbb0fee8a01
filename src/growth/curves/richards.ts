import type { GrowthCurve } from "../growth-curve.js";
import { straightened } from "../start-series.js";

const gradient = (t: number, p: ArrayLike<number>, out: Float64Array, at: number): number => {
  const a = p[0]!;
  const d = p[3]!;
  const m = d - 1;
  if (d !== shape.d) shape = shapeOf(d);
  const stretch = shape.stretch;
  const kappa = p[1]! * stretch;
  const x = t - p[2]!;
  const z = Math.exp(Math.min(700, -kappa * x));
  const mz = m * z;
  // For d < 1 the base turns negative before the curve's zero: no mass there.
  if (!(1 + mz > 0)) return Number.NaN;
  const share = Math.exp(-z * logOverItself(mz));
  const w = a * share;
  const slope = z / (1 + mz);
  out[at] = share;
  if (w === 0 || z > 1e300) {
    out[at + 1] = 0;
    out[at + 2] = 0;
    out[at + 3] = 0;
    return w;
  }
  out[at + 1] = w * slope * x * stretch;
  out[at + 2] = -w * slope * kappa;
  const byShape = Math.abs(mz) < 0.02 ? z * z * bend(mz) : (m * slope - Math.log1p(mz)) / (m * m);
  out[at + 3] = w * (slope * x * kappa * shape.slope - byShape);
  return w;
};

/**
 * Richards' curve in the unified form: kU is the greatest gain as a share of A,
 * whatever the shape d (d = 2 logistic, d near 1 Gompertz, d = 2/3 von
 * Bertalanffy for a mass, d = 0 monomolecular as the limit). For d below 1 the
 * curve starts from zero at a certain age and does not exist before it.
 */
export const richards: GrowthCurve = {
  name: "richards",
  title: "Richards (unified form)",
  equation: "W(t) = A (1 + (d - 1) exp(-kU (t - Ti) / d^(d / (1 - d))))^(1 / (1 - d))",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    { name: "kU", meaning: "the greatest gain as a share of A", kind: "rate", lower: 0 },
    { name: "Ti", meaning: "the age at the inflection", kind: "age" },
    {
      name: "d",
      meaning: "the shape: the inflection lies at the share d^(1 / (1 - d)) of A",
      kind: "shape",
      lower: 0,
    },
  ],
  linear: [0],
  homogeneous: true,
  asymptote: 0,
  domain: "every age for d of 1 and more; for d below 1 only ages after the curve's zero",
  usesOrigin: false,
  diverseBy: 3,
  tries: 1,
  gradient,
  everyAge: (t, p, values, out) => {
    for (let i = 0, at = 0; i < t.length; i++, at += 4) values[i] = gradient(t[i]!, p, out, at);
  },
  gain: (t, p) => {
    const d = p[3]!;
    const m = d - 1;
    const kappa = p[1]! * Math.exp(d * logOverItself(m));
    const z = Math.exp(Math.min(700, -kappa * (t - p[2]!)));
    if (!(1 + m * z > 0)) return Number.NaN;
    return (p[0]! * Math.exp(-z * logOverItself(m * z)) * kappa * z) / (1 + m * z);
  },
  starts: (series, _c, wide) => {
    const found: number[][] = [];
    for (const d of wide ? [0.4, 0.8, 1.3, 2, 4, 12, 40] : [0.6, 1.3, 3, 12]) {
      const m = d - 1;
      // log(((W/A)^(1-d) - 1) / (d - 1)) is a straight line in age for the right A and d.
      for (const times of wide ? [1.02, 1.3, 3] : [1.03, 1.5]) {
        const a = series.heaviest * times;
        const line = straightened(
          series,
          (w) => (w > 0 && w < a ? Math.log(Math.expm1(-m * Math.log(w / a)) / m) : Number.NaN),
          (w, z) => {
            const e = Math.exp(z);
            return ((w * e) / (1 + m * e)) ** 2;
          },
        );
        if (line === null || !(line.slope < 0)) continue;
        const kappa = -line.slope;
        let ti = line.level / kappa;
        if (m < 0) {
          // Keep the curve's zero before the first age.
          const zero = ti + Math.log(-m) / kappa;
          if (zero >= series.first) ti -= zero - series.first + 1e-3 * series.span;
        }
        found.push([a, kappa / Math.exp(d * logOverItself(m)), ti, d]);
      }
    }
    return found;
  },
  inflection: (p) => p[2]!,
  citations: [
    "Richards FJ (1959) J Exp Bot 10:290-300",
    "Tjørve E, Tjørve KMC (2010) J Theor Biol 267:417-425",
  ],
};

/** What depends on the shape alone, kept because all ages of a fit share it. */
let shape = { d: Number.NaN, stretch: 1, slope: 1 };

function shapeOf(d: number): typeof shape {
  const m = d - 1;
  const log = logOverItself(m);
  return { d, stretch: Math.exp(d * log), slope: log + d * bend(m) };
}

/** log(1 + x) / x, 1 at x = 0. */
function logOverItself(x: number): number {
  return x === 0 ? 1 : Math.log1p(x) / x;
}

/** (x / (1 + x) - log(1 + x)) / x^2, the derivative of log(1 + x) / x; -1/2 at x = 0. */
function bend(x: number): number {
  if (Math.abs(x) >= 0.02) return (x / (1 + x) - Math.log1p(x)) / (x * x);
  return (
    -1 / 2 +
    x *
      (2 / 3 + x * (-3 / 4 + x * (4 / 5 + x * (-5 / 6 + x * (6 / 7 + x * (-7 / 8 + x * (8 / 9)))))))
  );
}
