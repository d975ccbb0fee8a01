import type { CurveName } from "../../../src/growth/curve-catalogue.js";

/**
 * How the parameters of this library's curves become those of the reference
 * values (R's self-starting models and three formulas written out there).
 */
export interface Translation {
  readonly curve: CurveName;
  readonly fixed?: Readonly<Record<string, number>>;
  /** Names in the reference, in the order `to` gives them. */
  readonly names: readonly string[];
  readonly to: (p: readonly number[]) => number[];
}

export const translations: Readonly<Record<string, Translation>> = {
  // Asym / (1 + exp((xmid - x) / scal))
  logistic: {
    curve: "logistic",
    names: ["Asym", "xmid", "scal"],
    to: (p) => [p[0]!, p[2]!, 1 / p[1]!],
  },
  // Asym exp(-b2 b3^x)
  gompertz: {
    curve: "gompertz",
    names: ["Asym", "b2", "b3"],
    to: (p) => [p[0]!, Math.exp(p[1]! * p[2]!), Math.exp(-p[1]!)],
  },
  // Asym - Drop exp(-exp(lrc) x^pwr)
  weibull: {
    curve: "weibull",
    names: ["Asym", "Drop", "lrc", "pwr"],
    to: (p) => [p[0]!, p[0]! - p[1]!, p[3]! * Math.log(p[2]!), p[3]!],
  },
  // Asym + (R0 - Asym) exp(-exp(lrc) x)
  asymp: {
    curve: "monomolecular",
    names: ["Asym", "R0", "lrc"],
    to: (p) => [p[0]!, p[1]!, Math.log(p[2]!)],
  },
  // Asym (1 - exp(-exp(lrc) (x - c0)))
  asympOff: {
    curve: "von-bertalanffy-length",
    names: ["Asym", "lrc", "c0"],
    to: (p) => [p[0]!, Math.log(p[1]!), p[2]!],
  },
  // Asym (1 - exp(-exp(lrc) x)): the curve above through the origin
  asympOrig: {
    curve: "monomolecular",
    fixed: { W0: 0 },
    names: ["Asym", "lrc"],
    to: (p) => [p[0]!, Math.log(p[2]!)],
  },
  // A + (B - A) / (1 + exp((xmid - x) / scal))
  fpl: {
    curve: "logistic-from-floor",
    names: ["A", "B", "xmid", "scal"],
    to: (p) => [p[1]!, p[0]!, p[3]!, 1 / p[2]!],
  },
  // Vm x / (K + x)
  micmen: {
    curve: "michaelis-menten",
    fixed: { W0: 0, c: 1 },
    names: ["Vm", "K"],
    to: (p) => [p[0]!, p[2]!],
  },
  // A (1 + exp(lnu) exp(-k (x - tm)))^(-exp(-lnu))
  richards: {
    curve: "richards",
    names: ["A", "k", "tm", "lnu"],
    to: (p) => [p[0]!, p[1]! * p[3]! ** (p[3]! / (p[3]! - 1)), p[2]!, Math.log(p[3]! - 1)],
  },
  vonbert3: { curve: "von-bertalanffy-mass", names: ["Linf", "K", "t0"], to: (p) => [...p] },
  vonbert1: { curve: "von-bertalanffy-length", names: ["Linf", "K", "t0"], to: (p) => [...p] },
  brody: { curve: "brody", names: ["A", "b", "k"], to: (p) => [...p] },
  expo: { curve: "exponential", names: ["W0", "k"], to: (p) => [...p] },
};

/** The covariance after a translation, by differences of it (delta method). */
export function translatedCovariance(
  to: Translation["to"],
  p: readonly number[],
  covariance: readonly (readonly number[])[],
): number[][] {
  const moved = (j: number, h: number) => to(p.map((each, at) => (at === j ? each + h : each)));
  const columns = p.map((each, j) => {
    const h = 1e-4 * Math.max(Math.abs(each), 1e-8);
    const slope = (s: number) => {
      const above = moved(j, s);
      return moved(j, -s).map((below, i) => (above[i]! - below) / (2 * s));
    };
    const near = slope(h / 2);
    return slope(h).map((far, i) => (4 * near[i]! - far) / 3);
  });
  const k = columns[0]!.length;
  return Array.from({ length: k }, (_, a) =>
    Array.from({ length: k }, (__, b) => {
      let sum = 0;
      for (let i = 0; i < p.length; i++) {
        for (let j = 0; j < p.length; j++) {
          sum += columns[i]![a]! * covariance[i]![j]! * columns[j]![b]!;
        }
      }
      return sum;
    }),
  );
}
