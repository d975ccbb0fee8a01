import type { GrowthCurve } from "../growth-curve.js";
import { levelAndScale } from "../start-series.js";

/** Von Bertalanffy's curve for a length: no inflection. */
export const vonBertalanffyLength: GrowthCurve = {
  name: "von-bertalanffy-length",
  title: "Von Bertalanffy for a length",
  equation: "L(t) = A (1 - exp(-k (t - t0)))",
  parameters: [
    { name: "A", meaning: "the final length (asymptote)", kind: "mass" },
    { name: "k", meaning: "the rate constant", kind: "rate", lower: 0 },
    { name: "t0", meaning: "the age at which the length would be zero", kind: "age" },
  ],
  linear: [0],
  homogeneous: true,
  asymptote: 0,
  domain: "ages from t0 on",
  usesOrigin: false,
  gradient: (t, p, out, at) => {
    const x = t - p[2]!;
    // Before t0 the formula would be a negative length.
    if (x < 0) return Number.NaN;
    const share = -Math.expm1(-p[1]! * x);
    const rest = p[0]! * (1 - share);
    out[at] = share;
    out[at + 1] = rest * x;
    out[at + 2] = -rest * p[1]!;
    return p[0]! * share;
  },
  gain: (t, p) => {
    const x = t - p[2]!;
    return x < 0 ? Number.NaN : p[0]! * p[1]! * Math.exp(-p[1]! * x);
  },
  starts: (series) =>
    [0.1, 0.5, 1.2, 2.5, 5, 12, 30].flatMap((times) => {
      const k = times / series.span;
      const fit = levelAndScale(series, (t) => Math.exp(-k * (t - series.first)));
      if (fit === null || !(fit.level > 0) || !(fit.scale < 0)) return [];
      const t0 = series.first + Math.log(-fit.scale / fit.level) / k;
      return [[fit.level, k, Math.min(t0, series.first - 1e-3 * series.span)]];
    }),
  inflection: () => null,
  citations: ["von Bertalanffy L (1938) Hum Biol 10:181-213"],
};
