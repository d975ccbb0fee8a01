import type { GrowthCurve } from "../growth-curve.js";
import { lineThrough } from "../start-series.js";

/** Linear growth: the same gain at every age. */
export const linear: GrowthCurve = {
  name: "linear",
  title: "Linear",
  equation: "W(t) = W0 + g t",
  parameters: [
    { name: "W0", meaning: "the mass at age zero", kind: "mass" },
    { name: "g", meaning: "the gain, the same at every age", kind: "gain" },
  ],
  linear: [0, 1],
  domain: "every age",
  usesOrigin: true,
  gradient: (t, p, out, at) => {
    out[at] = 1;
    out[at + 1] = t;
    return p[0]! + p[1]! * t;
  },
  gain: (_t, p) => p[1]!,
  starts: (series) => {
    const line = lineThrough(series);
    return [[line.level, line.slope]];
  },
  inflection: () => null,
  citations: ["Draper NR, Smith H (1998) Applied Regression Analysis, 3rd ed. Wiley"],
};
