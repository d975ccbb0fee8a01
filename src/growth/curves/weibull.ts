import type { GrowthCurve } from "../growth-curve.js";

/** Weibull growth: monomolecular in a power of age. */
export const weibull: GrowthCurve = {
  name: "weibull",
  title: "Weibull",
  equation: "W(t) = A - (A - W0) exp(-(k t)^c)",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    { name: "W0", meaning: "the mass at age zero", kind: "mass" },
    {
      name: "k",
      meaning: "the rate constant: at age 1/k, 63.2 % of the way from W0 to A is done",
      kind: "rate",
      lower: 0,
    },
    { name: "c", meaning: "the shape; above 1 there is an inflection", kind: "shape", lower: 0 },
  ],
  linear: [0, 1],
  asymptote: 0,
  domain: "ages from zero on",
  usesOrigin: true,
  diverseBy: 3,
  tries: 3,
  gradient: (t, p, out, at) => {
    if (t < 0) return Number.NaN;
    const scaled = p[2]! * t;
    const u = scaled ** p[3]!;
    const e = Math.exp(-u);
    const rest = (p[0]! - p[1]!) * e;
    // Both tend to 0 where e does, and where t does.
    const step = e === 0 ? 0 : rest * u;
    out[at] = 1 - e;
    out[at + 1] = e;
    out[at + 2] = (step * p[3]!) / p[2]!;
    out[at + 3] = t === 0 || step === 0 ? 0 : step * Math.log(scaled);
    return p[0]! - rest;
  },
  gain: (t, p) => {
    if (t < 0) return Number.NaN;
    const u = (p[2]! * t) ** p[3]!;
    const e = Math.exp(-u);
    if (t === 0) return p[3]! === 1 ? (p[0]! - p[1]!) * p[2]! : p[3]! > 1 ? 0 : Number.NaN;
    return e === 0 ? 0 : ((p[0]! - p[1]!) * e * u * p[3]!) / t;
  },
  starts: (series) => {
    const reach = Math.max(series.last, series.span);
    return [0.3, 0.6, 0.95, 1.5, 4].flatMap((times) =>
      [0.7, 1.2, 2, 4, 8].map((c) => [series.heaviest, series.lightest, 1 / (times * reach), c]),
    );
  },
  inflection: (p) => (p[3]! > 1 ? ((p[3]! - 1) / p[3]!) ** (1 / p[3]!) / p[2]! : null),
  citations: ["Ratkowsky DA (1983) Nonlinear Regression Modeling. Dekker, New York"],
};
