import type { GrowthCurve } from "../growth-curve.js";
import { breakAges } from "../start-series.js";

/** Two straight lines that meet at an estimated age. */
export const brokenStick: GrowthCurve = {
  name: "broken-stick",
  title: "Two lines with a break",
  equation: "W(t) = W0 + g1 min(t, tb) + g2 max(t - tb, 0)",
  parameters: [
    { name: "W0", meaning: "the mass at age zero", kind: "mass" },
    { name: "g1", meaning: "the gain before the break", kind: "gain" },
    { name: "g2", meaning: "the gain after the break", kind: "gain" },
    { name: "tb", meaning: "the age at the break", kind: "age" },
  ],
  linear: [0, 1, 2],
  domain: "every age",
  usesOrigin: true,
  kinked: true,
  gradient: (t, p, out, at) => {
    const tb = p[3]!;
    const before = t <= tb;
    out[at] = 1;
    out[at + 1] = before ? t : tb;
    out[at + 2] = before ? 0 : t - tb;
    out[at + 3] = before ? 0 : p[1]! - p[2]!;
    return p[0]! + p[1]! * out[at + 1]! + p[2]! * out[at + 2]!;
  },
  gain: (t, p) => (t <= p[3]! ? p[1]! : p[2]!),
  starts: (series) => breakAges(series, 2).map((age) => [0, 1, 1, age]),
  inflection: () => null,
  citations: ["Hudson DJ (1966) J Am Stat Assoc 61:1097-1129"],
};
