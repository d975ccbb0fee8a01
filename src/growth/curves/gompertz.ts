import type { GrowthCurve } from "../growth-curve.js";
import { straightened } from "../start-series.js";

const gradient = (t: number, p: ArrayLike<number>, out: Float64Array, at: number): number => {
  const k = p[1]!;
  const x = t - p[2]!;
  const z = Math.exp(-k * x);
  const share = Math.exp(-z);
  const w = p[0]! * share;
  // share * z tends to 0 where z overflows.
  const bend = share === 0 ? 0 : w * z;
  out[at] = share;
  out[at + 1] = bend * x;
  out[at + 2] = -bend * k;
  return w;
};

/** Gompertz growth, inflection form: the relative gain falls by a constant factor per day. */
export const gompertz: GrowthCurve = {
  name: "gompertz",
  title: "Gompertz (inflection form)",
  equation: "W(t) = A exp(-exp(-k (t - Ti)))",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    {
      name: "k",
      meaning: "the rate constant, the relative gain at the inflection",
      kind: "rate",
      lower: 0,
    },
    {
      name: "Ti",
      meaning: "the age at the inflection, when 36.8 % of A is reached",
      kind: "age",
    },
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
    const z = Math.exp(-p[1]! * (t - p[2]!));
    const share = Math.exp(-z);
    return share === 0 ? 0 : p[0]! * p[1]! * z * share;
  },
  starts: (series, _c, wide) => {
    const found: number[][] = [];
    // log(log(A / W)) is a straight line in age for the right A.
    for (const times of wide ? [1.03, 1.4, 3, 20, 1000] : [1.01, 1.6, 30]) {
      const a = series.heaviest * times;
      const line = straightened(
        series,
        (w) => (w > 0 && w < a ? Math.log(Math.log(a / w)) : Number.NaN),
        (w, z) => (w * Math.exp(z)) ** 2,
      );
      if (line !== null && line.slope !== 0) {
        found.push([a, -line.slope, -line.level / line.slope]);
      }
    }
    return found;
  },
  inflection: (p) => p[2]!,
  citations: [
    "Winsor CP (1932) Proc Natl Acad Sci 18:1-8",
    "Tjørve KMC, Tjørve E (2017) PLoS ONE 12:e0178691",
  ],
};
