import type { GrowthCurve } from "../growth-curve.js";
import { breakAges } from "../start-series.js";

/** Linear growth that stops at an estimated age: a line, then a plateau. */
export const linearPlateau: GrowthCurve = {
  name: "linear-plateau",
  title: "Linear then plateau",
  equation: "W(t) = W0 + g min(t, tp)",
  parameters: [
    { name: "W0", meaning: "the mass at age zero", kind: "mass" },
    { name: "g", meaning: "the gain before the plateau", kind: "gain" },
    { name: "tp", meaning: "the age at which the plateau begins", kind: "age" },
  ],
  linear: [0, 1],
  domain: "every age",
  usesOrigin: true,
  kinked: true,
  gradient: (t, p, out, at) => {
    const before = t <= p[2]!;
    const reached = before ? t : p[2]!;
    out[at] = 1;
    out[at + 1] = reached;
    out[at + 2] = before ? 0 : p[1]!;
    return p[0]! + p[1]! * reached;
  },
  gain: (t, p) => (t <= p[2]! ? p[1]! : 0),
  starts: (series) => breakAges(series, 1).map((age) => [0, 1, age]),
  inflection: () => null,
  finalMass: (p) => p[0]! + p[1]! * p[2]!,
  citations: ["Anderson RL, Nelson LA (1975) Biometrics 31:303-318"],
};
