import { seededRandom } from "../../src/core/random.js";
import { type CurveName, growthCurves } from "../../src/growth/curve-catalogue.js";
import { curveModel, fitCurveNumbers } from "../../src/growth/curve-numbers.js";
import type { GrowthCurve } from "../../src/growth/growth-curve.js";
import { tCut } from "../../src/growth/information-criteria.js";
import { profileInterval } from "../../src/stats/least-squares/profile.js";
import { designIdentifies } from "./curve-simulations.js";

/** Fixed truths, 30 weighings over 150 days, errors of 2 % of the heaviest mass (g, d). */
export const coverageTruths = {
  logistic: [15000, 0.05, 60],
  gompertz: [15000, 0.03, 45],
  "von-bertalanffy-mass": [15000, 0.02, -30],
  monomolecular: [15000, 1500, 0.015],
  "logistic-from-floor": [15000, 1500, 0.06, 70],
  weibull: [15000, 1500, 0.012, 1.8],
} as const satisfies Partial<Record<CurveName, readonly number[]>>;

export interface Coverage {
  readonly curve: string;
  readonly identifiedByDesign: boolean;
  readonly runs: number;
  readonly notConverged: number;
  /** Share of runs whose interval holds the truth, by parameter. */
  readonly profile: Readonly<Record<string, number>>;
  readonly delta: Readonly<Record<string, number>>;
  readonly unbounded: number;
}

/** How often 95 % intervals hold the truth. A run without a fit counts as a miss. */
export function coverageOf(
  name: keyof typeof coverageTruths,
  runs: number,
  seed: number,
): Coverage {
  const curve: GrowthCurve = growthCurves[name];
  const truth = coverageTruths[name];
  const p = truth.length;
  const n = 30;
  const ages = Float64Array.from({ length: n }, (_, i) => 1 + (149 * i) / (n - 1));
  const out = new Float64Array(p);
  const exact = Float64Array.from(ages, (t) => curve.gradient(t, truth, out, 0, []));
  const sd = 0.02 * Math.max(...exact);
  const identifiedByDesign = designIdentifies({
    curve,
    truth,
    constants: [],
    sd,
    ages: [...ages],
    masses: [...exact],
  });
  const model = curveModel(curve, ages, []);
  const cut = tCut(n - p);
  const profile = new Array<number>(p).fill(0);
  const delta = new Array<number>(p).fill(0);
  let notConverged = 0;
  let unbounded = 0;
  for (let run = 0; run < runs; run++) {
    const random = seededRandom(seed + run);
    const w = exact.map((each) => each + sd * random.normal());
    const fit = fitCurveNumbers(curve, { t: ages, w }, []);
    if (fit === null || !fit.converged || fit.unscaledCovariance === null) {
      notConverged++;
      continue;
    }
    const variance = fit.rss / (n - p);
    for (let j = 0; j < p; j++) {
      const { lower, upper } = profileInterval(model, { y: w }, {}, fit, j, variance, cut);
      if (lower.at === null || upper.at === null) unbounded++;
      const at = truth[j]!;
      if ((lower.at ?? -Infinity) <= at && at <= (upper.at ?? Infinity)) profile[j]!++;
      const se = Math.sqrt(fit.unscaledCovariance[j * p + j]! * variance);
      if (Math.abs(fit.theta[j]! - at) <= cut * se) delta[j]!++;
    }
  }
  const shares = (counts: readonly number[]) =>
    Object.fromEntries(curve.parameters.map((each, j) => [each.name, counts[j]! / runs]));
  return {
    curve: name,
    identifiedByDesign,
    runs,
    notConverged,
    profile: shares(profile),
    delta: shares(delta),
    unbounded,
  };
}
