import type { GrowthCurve } from "../growth-curve.js";

/** Generalised Michaelis-Menten growth: a saturation curve in a power of age. */
export const michaelisMenten: GrowthCurve = {
  name: "michaelis-menten",
  title: "Generalised Michaelis-Menten",
  equation: "W(t) = (W0 K^c + A t^c) / (K^c + t^c)",
  parameters: [
    { name: "A", meaning: "the final mass (asymptote)", kind: "mass" },
    { name: "W0", meaning: "the mass at age zero", kind: "mass" },
    {
      name: "K",
      meaning: "the time from age zero until halfway from W0 to A",
      kind: "duration",
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
    const far = p[0]! - p[1]!;
    const odds = (p[2]! / t) ** p[3]!;
    const share = t === 0 ? 0 : 1 / (1 + odds);
    const bend = far * share * (1 - share);
    out[at] = share;
    out[at + 1] = 1 - share;
    out[at + 2] = (-bend * p[3]!) / p[2]!;
    out[at + 3] = t === 0 || bend === 0 ? 0 : bend * Math.log(t / p[2]!);
    return p[1]! + far * share;
  },
  gain: (t, p) => {
    if (t < 0) return Number.NaN;
    if (t === 0) return p[3]! === 1 ? (p[0]! - p[1]!) / p[2]! : p[3]! > 1 ? 0 : Number.NaN;
    const share = 1 / (1 + (p[2]! / t) ** p[3]!);
    return ((p[0]! - p[1]!) * share * (1 - share) * p[3]!) / t;
  },
  starts: (series) => {
    const reach = Math.max(series.last, series.span);
    return [0.2, 0.5, 0.9, 1.5, 4].flatMap((times) =>
      [0.7, 1.2, 2, 4, 8].map((c) => [series.heaviest, series.lightest, times * reach, c]),
    );
  },
  inflection: (p) => (p[3]! > 1 ? p[2]! * ((p[3]! - 1) / (p[3]! + 1)) ** (1 / p[3]!) : null),
  citations: ["López S et al. (2000) J Anim Sci 78:1816-1828"],
};
