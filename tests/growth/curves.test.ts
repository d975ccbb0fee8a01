import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { growthCurves } from "../../src/growth/curve-catalogue.js";
import type { GrowthCurve } from "../../src/growth/growth-curve.js";

/**
 * Masses, gains and inflections computed independently with 40-digit arithmetic
 * (mpmath, numerical differentiation of the written formula), A = 15, k = 0.02,
 * Ti = 60 unless the case says otherwise. [age, W, dW/dt] per row.
 */
interface Case {
  readonly curve: keyof typeof growthCurves;
  readonly p: readonly number[];
  readonly c?: readonly number[];
  readonly rows: readonly (readonly [number, number, number])[];
  readonly inflection?: readonly [number, number, number];
}

const kappa = (d: number) => d ** (d / (1 - d));
const cases: readonly Case[] = [
  {
    curve: "logistic",
    p: [15, 0.02, 60],
    rows: [
      [1, 3.5257829435435295, 0.05394079838422729],
      [100, 10.349617216914186, 0.06417290895608832],
    ],
    inflection: [60, 7.5, 0.075],
  },
  {
    curve: "gompertz",
    p: [15, 0.02, 60],
    rows: [
      [1, 0.5790745797837742, 0.03769050747994982],
      [100, 9.57084249873028, 0.08600913491367114],
    ],
    inflection: [60, 5.518191617571635, 0.1103638323514327],
  },
  {
    curve: "gompertz-start-mass",
    p: [15, 2, 0.02],
    rows: [
      [1, 2.0814087196341244, 0.08221586370517447],
      [100, 11.419960325789269, 0.062281601998489804],
    ],
    inflection: [35.02855327386381, 5.518191617571635, 0.1103638323514327],
  },
  {
    curve: "von-bertalanffy-mass",
    p: [15, 0.02, -30],
    rows: [
      [1, 1.4797006599769669, 0.10336376887611347],
      [100, 11.899788354604514, 0.05728516591661291],
    ],
    inflection: [24.930614433405484, 4.444444444444445, 0.13333333333333333],
  },
  {
    curve: "von-bertalanffy-length",
    p: [15, 0.02, -30],
    rows: [
      [1, 6.930833436079882, 0.16138333127840235],
      [100, 13.885896326784993, 0.022282073464300164],
    ],
  },
  {
    // The unified form itself.
    curve: "richards",
    p: [15, 0.02, 60, 1.5],
    rows: [
      [1, 0.01937337994235175, 0.002521413136115528],
      [100, 14.040544213389506, 0.061622449036030105],
    ],
    inflection: [60, 6.666666666666667, 0.3],
  },
  {
    // The classic form with k = 0.02 is the unified one with kU = k d^(d/(1-d)).
    curve: "richards",
    p: [15, 0.02 * kappa(0.5), 60, 0.5],
    rows: [
      [30, 0.11865645440441847, 0.048618101706670566],
      [100, 9.017177480721633, 0.10451421153596817],
    ],
    inflection: [60, 3.75, 0.15],
  },
  {
    curve: "brody",
    p: [15, 0.9, 0.02],
    rows: [
      [1, 1.7673179103588035, 0.2646536417928239],
      [100, 13.172973676305729, 0.03654052647388543],
    ],
  },
  {
    curve: "weibull",
    p: [15, 2, 0.02, 1.6],
    rows: [
      [1, 2.024841400285881, 0.03970824115842814],
      [100, 14.372796215221255, 0.030421221349349305],
    ],
    inflection: [27.085667739772514, 6.065239375717361, 0.19792225268634298],
  },
  {
    curve: "michaelis-menten",
    p: [15, 2, 80, 1.8],
    rows: [
      [1, 2.0048777371476527, 0.008776632544587831],
      [100, 9.788118538296333, 0.0562025777971809],
    ],
    inflection: [39.88687042576016, 4.888888888888889, 0.10139788861029365],
  },
  {
    curve: "schnute",
    p: [2, 13, 0.02, 0.5],
    c: [0, 180],
    rows: [
      [1, 2.128167101646795, 0.12885994846909962],
      [100, 11.304473224887873, 0.041005034465469145],
      [180, 13, Number.NaN],
    ],
    inflection: [10.297988804551373, 3.3619216616777856, 0.1344768664671114],
  },
  {
    curve: "double-logistic",
    p: [5, 0.08, 25, 10, 0.03, 120],
    rows: [
      [1, 0.9131559410966634, 0.052595659394810465],
      [100, 8.531073821958872, 0.06962187585354121],
    ],
  },
];

describe("curves against 40-digit values", () => {
  it.each(cases)("$curve", ({ curve, p, c = [], rows, inflection }) => {
    const it: GrowthCurve = growthCurves[curve];
    const out = new Float64Array(p.length);
    for (const [age, w, gain] of rows) {
      expect(it.gradient(age, p, out, 0, c) / w).toBeCloseTo(1, 12);
      if (!Number.isNaN(gain)) expect(it.gain(age, p, c) / gain).toBeCloseTo(1, 11);
    }
    if (inflection !== undefined) {
      const age = it.inflection(p, c)!;
      expect(age / inflection[0]).toBeCloseTo(1, 11);
      expect(it.gradient(age, p, out, 0, c) / inflection[1]).toBeCloseTo(1, 11);
      expect(it.gain(age, p, c) / inflection[2]).toBeCloseTo(1, 11);
    } else expect(it.inflection(p, c) === null || curve === "double-logistic").toBe(true);
  });

  it("has the known limits of Richards' and Schnute's curves", () => {
    const out = new Float64Array(4);
    const at = (curve: GrowthCurve, p: number[], t: number, c: number[] = []) =>
      curve.gradient(t, p, out, 0, c);
    for (const t of [5, 40, 90]) {
      // d = 2 is the logistic with k = 4 kU, d = 1 the Gompertz with k = e kU.
      expect(at(growthCurves.richards, [15, 0.005, 60, 2], t)).toBeCloseTo(
        at(growthCurves.logistic, [15, 0.02, 60], t),
        11,
      );
      const u = 0.02 / Math.E;
      expect(at(growthCurves.richards, [15, u, 60, 1], t)).toBeCloseTo(
        at(growthCurves.gompertz, [15, 0.02, 60], t),
        11,
      );
      expect(at(growthCurves.richards, [15, u, 60, 1 + 1e-9], t)).toBeCloseTo(
        at(growthCurves.gompertz, [15, 0.02, 60], t),
        7,
      );
      // b = 0, a = 0: exponential; b = 1, a = 0: linear.
      expect(at(growthCurves.schnute, [2, 13, 0, 0], t, [0, 180])).toBeCloseTo(
        2 * (13 / 2) ** (t / 180),
        11,
      );
      expect(at(growthCurves.schnute, [2, 13, 0, 1], t, [0, 180])).toBeCloseTo(
        2 + (11 * t) / 180,
        11,
      );
    }
  });

  it("has no mass where the formula is none", () => {
    const out = new Float64Array(4);
    // With d = 0.5 the classic formula gives 5.90 at age 1 although its base is negative there.
    const d = 0.5;
    expect(growthCurves.richards.gradient(1, [15, 0.02 * kappa(d), 60, d], out, 0, [])).toBeNaN();
    expect(growthCurves.richards.gain(1, [15, 0.02 * kappa(d), 60, d], [])).toBeNaN();
    expect(
      growthCurves["von-bertalanffy-mass"].gradient(-31, [15, 0.02, -30], out, 0, []),
    ).toBeNaN();
    expect(
      growthCurves["von-bertalanffy-length"].gradient(-31, [15, 0.02, -30], out, 0, []),
    ).toBeNaN();
    expect(growthCurves.weibull.gradient(-1, [15, 2, 0.02, 1.6], out, 0, [])).toBeNaN();
    expect(growthCurves["michaelis-menten"].gradient(-1, [15, 2, 80, 1.8], out, 0, [])).toBeNaN();
  });
});

/** Parameters of each curve over the whole range a fit may visit. */
const ranges: Readonly<Record<keyof typeof growthCurves, readonly (readonly [number, number])[]>> =
  {
    linear: [
      [-5, 30],
      [-1, 2],
    ],
    exponential: [
      [0.5, 30],
      [-0.05, 0.05],
    ],
    "linear-plateau": [
      [0.5, 30],
      [0.1, 2],
      [5, 150],
    ],
    "broken-stick": [
      [0.5, 30],
      [0.1, 2],
      [-1, 2],
      [5, 150],
    ],
    monomolecular: [
      [5, 50],
      [0.5, 5],
      [0.001, 0.2],
    ],
    brody: [
      [5, 50],
      [0.2, 1.5],
      [0.001, 0.2],
    ],
    "von-bertalanffy-length": [
      [5, 50],
      [0.001, 0.2],
      [-40, 0],
    ],
    logistic: [
      [5, 50],
      [0.001, 0.5],
      [-20, 150],
    ],
    "logistic-from-floor": [
      [5, 50],
      [0.5, 5],
      [0.001, 0.5],
      [-20, 150],
    ],
    gompertz: [
      [5, 50],
      [0.001, 0.3],
      [-20, 100],
    ],
    "gompertz-start-mass": [
      [5, 50],
      [0.5, 4],
      [0.001, 0.3],
    ],
    "von-bertalanffy-mass": [
      [5, 50],
      [0.001, 0.2],
      [-40, 0],
    ],
    richards: [
      [5, 50],
      [0.001, 0.1],
      [-20, 100],
      [0.3, 6],
    ],
    weibull: [
      [5, 50],
      [0.5, 4],
      [0.002, 0.1],
      [0.5, 5],
    ],
    "michaelis-menten": [
      [5, 50],
      [0.5, 4],
      [5, 200],
      [0.5, 5],
    ],
    schnute: [
      [0.5, 4],
      [5, 50],
      [-0.05, 0.1],
      [-2, 2],
    ],
    "double-logistic": [
      [5, 20],
      [0.01, 0.3],
      [0, 60],
      [5, 20],
      [0.01, 0.3],
      [60, 150],
    ],
  };

describe("the gradient written out", () => {
  it.each(Object.keys(ranges) as (keyof typeof ranges)[])(
    "%s agrees with differences of the formula, by parameter and by age",
    (name) => {
      const curve: GrowthCurve = growthCurves[name];
      const c = [0, 180];
      const p = ranges[name].length;
      fc.assert(
        fc.property(
          fc.tuple(...ranges[name].map(([lo, hi]) => fc.double({ min: lo, max: hi, noNaN: true }))),
          fc.double({ min: 0.5, max: 180, noNaN: true }),
          (theta, age) => {
            const kinks = curve.kinked ? [theta[p - 1]!] : [];
            if (kinks.some((at) => Math.abs(at - age) < 1)) return;
            const out = new Float64Array(p);
            const spare = new Float64Array(p);
            const w = curve.gradient(age, theta, out, 0, c);
            if (Number.isNaN(w)) return;
            const value = (q: readonly number[], t: number) => curve.gradient(t, q, spare, 0, c);
            const difference = (f: (h: number) => number, h: number) => {
              const slope = (s: number) => (f(s) - f(-s)) / (2 * s);
              return (4 * slope(h / 2) - slope(h)) / 3;
            };
            const scale = Math.abs(w) + 1e-6;
            for (let j = 0; j < p; j++) {
              const h = 1e-4 * Math.max(Math.abs(theta[j]!), 1e-2);
              const expected = difference(
                (s) =>
                  value(
                    theta.map((each, at) => (at === j ? each + s : each)),
                    age,
                  ),
                h,
              );
              if (!Number.isFinite(expected)) continue;
              const allowed = 1e-6 * Math.abs(expected) + (1e-8 * scale) / h / 1e2;
              expect(Math.abs(out[j]! - expected)).toBeLessThanOrEqual(allowed);
            }
            const expectedGain = difference((s) => value(theta, age + s), 1e-2);
            if (Number.isFinite(expectedGain)) {
              expect(Math.abs(curve.gain(age, theta, c) - expectedGain)).toBeLessThanOrEqual(
                1e-5 * Math.abs(expectedGain) + 1e-8 * scale,
              );
            }
          },
        ),
        { seed: 20261125, numRuns: 300 },
      );
    },
  );

  it("covers every curve of the catalogue", () => {
    expect(Object.keys(ranges).sort()).toEqual(Object.keys(growthCurves).sort());
  });
});
