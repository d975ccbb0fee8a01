import type { GrowthCurve } from "../growth-curve.js";

/** Logistic growth from a floor: the curve rises from W0 to A (four-parameter logistic). */
export const logisticFromFloor: GrowthCurve = {
  name: "logistic-from-floor",
  title: "Logistic from a floor",
  equation: "W(t) = W0 + (A - W0) / (1 + exp(-k (t - Ti)))",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    { name: "W0", meaning: "the mass long before the inflection (floor)", kind: "mass" },
    { name: "k", meaning: "the rate constant", kind: "rate", lower: 0 },
    { name: "Ti", meaning: "the age at the inflection, halfway from W0 to A", kind: "age" },
  ],
  linear: [0, 1],
  asymptote: 0,
  domain: "every age",
  usesOrigin: false,
  tries: 2,
  gradient: (t, p, out, at) => {
    const k = p[2]!;
    const x = t - p[3]!;
    const e = Math.exp(-Math.abs(k * x));
    const small = e / (1 + e);
    const share = x >= 0 ? 1 - small : small;
    const far = p[0]! - p[1]!;
    const bend = (far * e) / ((1 + e) * (1 + e));
    out[at] = share;
    out[at + 1] = x >= 0 ? small : 1 - small;
    out[at + 2] = bend * x;
    out[at + 3] = -bend * k;
    return p[1]! + far * share;
  },
  gain: (t, p) => {
    const e = Math.exp(-Math.abs(p[2]! * (t - p[3]!)));
    return ((p[0]! - p[1]!) * p[2]! * e) / ((1 + e) * (1 + e));
  },
  starts: (series) =>
    [1.5, 4, 10, 25].flatMap((times) =>
      [-0.3, 0.1, 0.3, 0.5, 0.7, 0.9, 1.3].map((part) => [
        series.heaviest,
        series.lightest,
        times / series.span,
        series.first + part * series.span,
      ]),
    ),
  inflection: (p) => p[3]!,
  citations: [
    "Pinheiro JC, Bates DM (2000) Mixed-Effects Models in S and S-PLUS. Springer, app. C",
  ],
};
