import type { GrowthCurve } from "../growth-curve.js";
import { straightened } from "../start-series.js";

const gradient = (t: number, p: ArrayLike<number>, out: Float64Array, at: number): number => {
  const a = p[0]!;
  const k = p[1]!;
  const x = t - p[2]!;
  const z = k * x;
  // Written so that neither tail overflows.
  let share: number;
  let other: number;
  if (z >= 0) {
    const e = Math.exp(-z);
    share = 1 / (1 + e);
    other = e * share;
  } else {
    const e = Math.exp(z);
    other = 1 / (1 + e);
    share = e * other;
  }
  const bend = a * share * other;
  out[at] = share;
  out[at + 1] = bend * x;
  out[at + 2] = -bend * k;
  return a * share;
};

/** Logistic growth: symmetric about an inflection at half the final mass. */
export const logistic: GrowthCurve = {
  name: "logistic",
  title: "Logistic",
  equation: "W(t) = A / (1 + exp(-k (t - Ti)))",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    {
      name: "k",
      meaning: "the rate constant, the relative gain long before the inflection",
      kind: "rate",
      lower: 0,
    },
    { name: "Ti", meaning: "the age at the inflection, when half of A is reached", kind: "age" },
  ],
  linear: [0],
  homogeneous: true,
  asymptote: 0,
  domain: "every age",
  usesOrigin: false,
  gradient,
  everyAge: (t, p, values, out) => {
    for (let i = 0, at = 0; i < t.length; i++, at += 3) values[i] = gradient(t[i]!, p, out, at);
  },
  gain: (t, p) => {
    const e = Math.exp(-Math.abs(p[1]! * (t - p[2]!)));
    return (p[0]! * p[1]! * e) / ((1 + e) * (1 + e));
  },
  starts: (series, _c, wide) => {
    const found: number[][] = [];
    // log((A - W) / W) is a straight line in age for the right A.
    for (const times of wide ? [1.03, 1.4, 3, 20] : [1.03, 1.6, 10]) {
      const a = series.heaviest * times;
      const line = straightened(
        series,
        (w) => (w > 0 && w < a ? Math.log((a - w) / w) : Number.NaN),
        (w) => (w * (a - w)) ** 2,
      );
      if (line !== null && line.slope !== 0) {
        found.push([a, -line.slope, -line.level / line.slope]);
      }
    }
    return found;
  },
  inflection: (p) => p[2]!,
  citations: [
    "Verhulst P-F (1838) Correspondance mathématique et physique 10:113-121",
    "Tjørve E, Tjørve KMC (2010) J Theor Biol 267:417-425",
  ],
};
