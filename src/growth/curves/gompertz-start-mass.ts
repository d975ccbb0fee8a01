import type { GrowthCurve } from "../growth-curve.js";
import { gompertz } from "./gompertz.js";

/** Gompertz growth written with the mass at age zero (Laird's form). */
export const gompertzStartMass: GrowthCurve = {
  name: "gompertz-start-mass",
  title: "Gompertz (start-mass form)",
  equation: "W(t) = A (W0 / A)^exp(-k t)",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass", lower: 0 },
    { name: "W0", meaning: "the mass at age zero", kind: "mass", lower: 0 },
    {
      name: "k",
      meaning: "the rate constant, the relative gain at the inflection",
      kind: "rate",
      lower: 0,
    },
  ],
  linear: [],
  asymptote: 0,
  domain: "every age",
  usesOrigin: true,
  gradient: (t, p, out, at) => {
    const e = Math.exp(-p[2]! * t);
    const ratio = Math.log(p[1]! / p[0]!);
    const w = p[0]! * Math.exp(ratio * e);
    out[at] = (w * (1 - e)) / p[0]!;
    out[at + 1] = (w * e) / p[1]!;
    out[at + 2] = w === 0 ? 0 : -w * ratio * t * e;
    return w;
  },
  gain: (t, p) => {
    const e = Math.exp(-p[2]! * t);
    const ratio = Math.log(p[1]! / p[0]!);
    const w = p[0]! * Math.exp(ratio * e);
    return w === 0 ? 0 : -w * ratio * p[2]! * e;
  },
  starts: (series, c, wide) =>
    gompertz
      .starts(series, c, wide)
      .map((p) => [p[0]!, p[0]! * Math.exp(-Math.exp(p[1]! * p[2]!)), p[1]!])
      .filter((p) => p[1]! > 1e-200),
  inflection: (p) => (p[0]! > p[1]! ? Math.log(Math.log(p[0]! / p[1]!)) / p[2]! : null),
  citations: [
    "Laird AK (1965) Growth 29:249-263",
    "Tjørve KMC, Tjørve E (2017) PLoS ONE 12:e0178691",
  ],
};
