import type { GrowthCurve } from "../growth-curve.js";

/** Monomolecular growth: the gain falls in proportion to what is still missing. */
export const monomolecular: GrowthCurve = {
  name: "monomolecular",
  title: "Monomolecular",
  equation: "W(t) = A - (A - W0) exp(-k t)",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    { name: "W0", meaning: "the mass at age zero", kind: "mass" },
    {
      name: "k",
      meaning: "the rate constant, the share of the missing mass gained per unit of age",
      kind: "rate",
      lower: 0,
    },
  ],
  linear: [0, 1],
  asymptote: 0,
  domain: "every age",
  usesOrigin: true,
  gradient: (t, p, out, at) => {
    const e = Math.exp(-p[2]! * t);
    const missing = p[0]! - p[1]!;
    out[at] = 1 - e;
    out[at + 1] = e;
    out[at + 2] = missing * t * e;
    return p[0]! - missing * e;
  },
  gain: (t, p) => (p[0]! - p[1]!) * p[2]! * Math.exp(-p[2]! * t),
  starts: (series) =>
    [0.1, 0.5, 1.2, 2.5, 5, 12, 30].map((times) => [
      series.heaviest,
      series.lightest,
      times / series.span,
    ]),
  inflection: () => null,
  citations: ["Brody S (1945) Bioenergetics and Growth. Reinhold, New York"],
};
