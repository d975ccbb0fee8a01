import type { GrowthCurve } from "../growth-curve.js";
import { straightened } from "../start-series.js";

/** Exponential growth: the relative gain is the same at every age. */
export const exponential: GrowthCurve = {
  name: "exponential",
  title: "Exponential",
  equation: "W(t) = W0 exp(k t)",
  parameters: [
    { name: "W0", meaning: "the mass at age zero", kind: "mass" },
    {
      name: "k",
      meaning: "the relative gain per unit of age, the same at every age",
      kind: "rate",
    },
  ],
  linear: [0],
  homogeneous: true,
  domain: "every age",
  usesOrigin: true,
  gradient: (t, p, out, at) => {
    const e = Math.exp(p[1]! * t);
    const w = p[0]! * e;
    out[at] = e;
    out[at + 1] = w * t;
    return w;
  },
  gain: (t, p) => p[0]! * p[1]! * Math.exp(p[1]! * t),
  starts: (series) => {
    const line = straightened(
      series,
      (w) => (w > 0 ? Math.log(w) : Number.NaN),
      (w) => w * w,
    );
    return line === null ? [] : [[Math.exp(line.level), line.slope]];
  },
  inflection: () => null,
  citations: ["Brody S (1945) Bioenergetics and Growth. Reinhold, New York"],
};
