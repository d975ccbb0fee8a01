import { type Random, seededRandom } from "../../src/core/random.js";
import type { CurveName } from "../../src/growth/curve-catalogue.js";
import { growthCurves } from "../../src/growth/curve-catalogue.js";
import { curveModel } from "../../src/growth/curve-numbers.js";
import type { GrowthCurve } from "../../src/growth/growth-curve.js";
import { tCut } from "../../src/growth/information-criteria.js";
import { fitLeastSquares } from "../../src/stats/least-squares/fit-least-squares.js";

/**
 * Made-up series like those of hand-reared young: 20 to 100 weighings over 40
 * to 220 days at uneven ages, scale and gut fill together 0.5 to 2 % of the
 * heaviest mass. Grams and days.
 */
export interface SimulatedSeries {
  readonly curve: GrowthCurve;
  readonly truth: readonly number[];
  readonly constants: readonly number[];
  readonly sd: number;
  readonly ages: number[];
  readonly masses: number[];
}

type Range = readonly [number, number];
const final: Range = [8000, 25000];
const start: Range = [1000, 2500];

/** Ranges the true parameters are drawn from, uniformly. */
export const truths: Readonly<Record<CurveName, readonly Range[]>> = {
  linear: [start, [30, 120]],
  exponential: [start, [0.005, 0.02]],
  "linear-plateau": [start, [40, 120], [30, 150]],
  "broken-stick": [start, [40, 120], [5, 35], [30, 150]],
  monomolecular: [final, start, [0.005, 0.03]],
  brody: [final, [0.8, 0.95], [0.005, 0.03]],
  "von-bertalanffy-length": [final, [0.005, 0.03], [-60, -5]],
  logistic: [final, [0.02, 0.08], [30, 100]],
  "logistic-from-floor": [final, start, [0.03, 0.1], [40, 110]],
  gompertz: [final, [0.012, 0.04], [20, 80]],
  "gompertz-start-mass": [final, start, [0.012, 0.04]],
  "von-bertalanffy-mass": [final, [0.008, 0.03], [-60, -15]],
  richards: [final, [0.004, 0.015], [30, 100], [0.6, 3]],
  weibull: [final, start, [0.006, 0.02], [1, 2.5]],
  "michaelis-menten": [final, start, [40, 150], [1.2, 3]],
  schnute: [start, final, [0, 0.03], [-1, 1]],
  "double-logistic": [
    [3000, 8000],
    [0.08, 0.2],
    [15, 40],
    [6000, 15000],
    [0.03, 0.08],
    [90, 140],
  ],
};

const between = (random: Random, [low, high]: Range) => low + (high - low) * random.uniform();

/** One series; `null` where the drawn curve has no mass at some age. */
export function simulateSeries(
  name: CurveName,
  seed: number,
  design: { readonly n?: number; readonly span?: number } = {},
): SimulatedSeries | null {
  const random = seededRandom(seed);
  const curve: GrowthCurve = growthCurves[name];
  const truth = truths[name].map((range) => between(random, range));
  const n = design.n ?? Math.round(between(random, [20, 100]));
  const span = design.span ?? between(random, [40, 220]);
  const first = between(random, [0, 5]);
  const ages = Array.from({ length: n }, (_, i) => {
    const jitter = i === 0 || i === n - 1 ? 0 : (random.uniform() - 0.5) * 0.8;
    return first + (span * (i + jitter)) / (n - 1);
  });
  const constants = curve.constants?.(ages) ?? [];
  const out = new Float64Array(truth.length);
  const exact = ages.map((t) => curve.gradient(t, truth, out, 0, constants));
  if (exact.some((w) => !(w > 0))) return null;
  const sd = between(random, [0.005, 0.02]) * Math.max(...exact);
  const masses = exact.map((w) => Math.max(1, w + sd * random.normal()));
  return { curve, truth, constants, sd, ages, masses };
}

/**
 * Whether the design identifies the curve, decided at the truth and never from
 * the fit: the expected 95 % interval of every parameter keeps clear of zero
 * (age parameters: is shorter than the series).
 */
export function designIdentifies(series: SimulatedSeries): boolean {
  const { curve, truth, constants, ages, sd } = series;
  const p = truth.length;
  if (ages.length <= p) return false;
  const model = curveModel(curve, Float64Array.from(ages), constants);
  const out = new Float64Array(p);
  const still = fitLeastSquares(
    { ...model, linear: [] },
    { y: ages.map((t) => curve.gradient(t, truth, out, 0, constants)) },
    { start: truth, maxIterations: 0 },
  );
  if (still.unscaledCovariance === null) return false;
  const cut = tCut(ages.length - p);
  const span = ages[ages.length - 1]! - ages[0]!;
  return curve.parameters.every((each, j) => {
    const se = sd * Math.sqrt(still.unscaledCovariance![j * p + j]!);
    return cut * se < (each.kind === "age" ? span : Math.abs(truth[j]!));
  });
}

/** The lowest sum of squares from the truth and 19 starts scattered around it. */
export function searchedRss(series: SimulatedSeries, seed: number): number {
  const random = seededRandom(seed).split(7);
  const { curve, truth, constants, ages, masses } = series;
  const model = curveModel(curve, Float64Array.from(ages), constants);
  const span = ages[ages.length - 1]! - ages[0]!;
  let best = Number.POSITIVE_INFINITY;
  for (let s = 0; s < 20; s++) {
    const from = truth.map((each, j) =>
      s === 0
        ? each
        : curve.parameters[j]!.kind === "age"
          ? each + 0.5 * span * (2 * random.uniform() - 1)
          : each * 10 ** (0.5 * (2 * random.uniform() - 1)),
    );
    const fit = fitLeastSquares(
      model,
      { y: masses },
      { start: from, damping: 0.01, tolerance: 1e-9, maxIterations: 200 },
    );
    if (fit.rss < best) best = fit.rss;
  }
  return best;
}
