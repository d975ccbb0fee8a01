import type { GrowthCurve } from "../growth-curve.js";
import { logistic } from "./logistic.js";

/** Two logistic phases added up, for growth with two spurts. */
export const doubleLogistic: GrowthCurve = {
  name: "double-logistic",
  title: "Double logistic",
  equation: "W(t) = A1 / (1 + exp(-k1 (t - T1))) + A2 / (1 + exp(-k2 (t - T2)))",
  parameters: [
    { name: "A1", meaning: "the mass gained in the first phase", kind: "mass" },
    { name: "k1", meaning: "the rate constant of the first phase", kind: "rate", lower: 0 },
    { name: "T1", meaning: "the age in the middle of the first phase", kind: "age" },
    { name: "A2", meaning: "the mass gained in the second phase", kind: "mass" },
    { name: "k2", meaning: "the rate constant of the second phase", kind: "rate", lower: 0 },
    { name: "T2", meaning: "the age in the middle of the second phase", kind: "age" },
  ],
  linear: [0, 3],
  asymptote: 3,
  domain: "every age",
  usesOrigin: false,
  tries: 8,
  gradient: (t, p, out, at, c) => {
    const first = logistic.gradient(t, p, out, at, c);
    const k = p[4]!;
    const x = t - p[5]!;
    const e = Math.exp(-Math.abs(k * x));
    const small = e / (1 + e);
    const share = x >= 0 ? 1 - small : small;
    const bend = (p[3]! * e) / ((1 + e) * (1 + e));
    out[at + 3] = share;
    out[at + 4] = bend * x;
    out[at + 5] = -bend * k;
    return first + p[3]! * share;
  },
  gain: (t, p, c) => logistic.gain(t, p, c) + logistic.gain(t, [p[3]!, p[4]!, p[5]!], c),
  starts: (series) => {
    const found: number[][] = [];
    for (const one of [0, 0.15, 0.3, 0.45]) {
      for (const two of [0.5, 0.65, 0.8, 1]) {
        for (const [k1, k2] of [
          [6, 6],
          [15, 6],
          [6, 15],
          [15, 15],
          [40, 6],
          [40, 15],
        ] as const) {
          found.push([
            series.heaviest / 2,
            k1 / series.span,
            series.first + one * series.span,
            series.heaviest / 2,
            k2 / series.span,
            series.first + two * series.span,
          ]);
        }
      }
    }
    return found;
  },
  inflection: (p, c) => {
    // The greatest gain lies near the middle of one phase; refine there.
    const gain = (t: number) => doubleLogistic.gain(t, p, c);
    let best = gain(p[2]!) >= gain(p[5]!) ? p[2]! : p[5]!;
    let step = 1 / Math.max(p[1]!, p[4]!);
    for (let i = 0; i < 200 && step > 1e-12 * (1 + Math.abs(best)); i++) {
      if (gain(best + step) > gain(best)) best += step;
      else if (gain(best - step) > gain(best)) best -= step;
      else step /= 2;
    }
    return best;
  },
  finalMass: (p) => p[0]! + p[3]!,
  citations: ["Koops WJ (1986) Growth 50:169-177"],
};
