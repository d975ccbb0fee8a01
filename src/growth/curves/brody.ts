import type { GrowthCurve } from "../growth-curve.js";
import { levelAndScale } from "../start-series.js";

/** Brody's curve: monomolecular growth written with the share still missing at age zero. */
export const brody: GrowthCurve = {
  name: "brody",
  title: "Brody",
  equation: "W(t) = A (1 - b exp(-k t))",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    { name: "b", meaning: "the share of A still missing at age zero", kind: "shape" },
    { name: "k", meaning: "the rate constant (maturing rate)", kind: "rate", lower: 0 },
  ],
  linear: [0],
  homogeneous: true,
  asymptote: 0,
  domain: "every age",
  usesOrigin: true,
  gradient: (t, p, out, at) => {
    const a = p[0]!;
    const e = Math.exp(-p[2]! * t);
    out[at] = 1 - p[1]! * e;
    out[at + 1] = -a * e;
    out[at + 2] = a * p[1]! * t * e;
    return a * out[at]!;
  },
  gain: (t, p) => p[0]! * p[1]! * p[2]! * Math.exp(-p[2]! * t),
  starts: (series) =>
    [0.1, 0.5, 1.2, 2.5, 5, 12, 30].flatMap((times) => {
      const k = times / series.span;
      const fit = levelAndScale(series, (t) => Math.exp(-k * t));
      return fit === null || fit.level === 0 ? [] : [[fit.level, -fit.scale / fit.level, k]];
    }),
  inflection: () => null,
  citations: ["Brody S (1945) Bioenergetics and Growth. Reinhold, New York"],
};
