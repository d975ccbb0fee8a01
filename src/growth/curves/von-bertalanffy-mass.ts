import type { GrowthCurve } from "../growth-curve.js";
import { straightened } from "../start-series.js";

/** Von Bertalanffy's curve for a mass (cube of a length): inflection at 8/27 of the final mass. */
export const vonBertalanffyMass: GrowthCurve = {
  name: "von-bertalanffy-mass",
  title: "Von Bertalanffy for a mass",
  equation: "W(t) = A (1 - exp(-k (t - t0)))^3",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    { name: "k", meaning: "the rate constant", kind: "rate", lower: 0 },
    { name: "t0", meaning: "the age at which the mass would be zero", kind: "age" },
  ],
  linear: [0],
  homogeneous: true,
  asymptote: 0,
  domain: "ages from t0 on",
  usesOrigin: false,
  gradient: (t, p, out, at) => {
    const x = t - p[2]!;
    // Before t0 the cube would be a negative mass.
    if (x < 0) return Number.NaN;
    const share = -Math.expm1(-p[1]! * x);
    const bend = 3 * p[0]! * share * share * (1 - share);
    out[at] = share * share * share;
    out[at + 1] = bend * x;
    out[at + 2] = -bend * p[1]!;
    return p[0]! * out[at]!;
  },
  gain: (t, p) => {
    const x = t - p[2]!;
    if (x < 0) return Number.NaN;
    const share = -Math.expm1(-p[1]! * x);
    return 3 * p[0]! * p[1]! * share * share * (1 - share);
  },
  starts: (series) => {
    const found: number[][] = [];
    // log(1 - (W/A)^(1/3)) is a straight line in age for the right A.
    for (const times of [1.02, 1.2, 2, 6, 40, 1000]) {
      const a = series.heaviest * times;
      const line = straightened(
        series,
        (w) => (w > 0 && w < a ? Math.log1p(-Math.cbrt(w / a)) : Number.NaN),
        (w) => {
          const root = Math.cbrt(w / a);
          return ((w * (1 - root)) / root) ** 2;
        },
      );
      if (line === null || !(line.slope < 0)) continue;
      const t0 = -line.level / line.slope;
      found.push([a, -line.slope, Math.min(t0, series.first - 1e-3 * series.span)]);
    }
    return found;
  },
  inflection: (p) => p[2]! + Math.log(3) / p[1]!,
  citations: ["von Bertalanffy L (1957) Q Rev Biol 32:217-231"],
};
