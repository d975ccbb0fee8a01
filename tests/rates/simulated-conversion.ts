import { type Random, seededRandom } from "../../src/core/random.js";
import { sumStretches } from "../../src/rates/serial-evidence.js";
import { type ErrorsBetweenDays, serialSlope } from "../../src/rates/serial-slope.js";
import { slopePivots } from "../../src/rates/slope-pivots.js";
import { ratioSet } from "../../src/stats/hypothesis-tests/ratio-set.js";
import { serialLikelihood } from "../../src/stats/linear-model/serial-line.js";

/** How one window of an animal is simulated. */
export interface ConversionScenario {
  readonly name: string;
  /** Daily weighings; the window is one day shorter. */
  readonly weighings: number;
  readonly gainGPerD: number;
  readonly massSd: number;
  readonly feedGPerD: number;
  readonly feedsPerD: number;
  readonly tails?: "normal" | "heavy";
  /** Correlation of errors from day to day. Default 0. */
  readonly correlation?: number;
  /** Share of the error's variance that is independent all the same (the scale). Default 0. */
  readonly scaleShare?: number;
  /** Stretches of 14 weighings of the same animal just before the window. Default 0. */
  readonly earlier?: number;
  /** Stretches of 14 weighings of other animals. Default 0. */
  readonly others?: number;
}

export interface Coverage {
  readonly covered: number;
  readonly tooHigh: number;
  readonly tooLow: number;
  readonly unbounded: number;
  readonly notDefined: number;
  /** The same windows' interval of the gain: share that holds it, mean width in g/d. */
  readonly gainCovered: number;
  readonly gainWidth: number;
  /** Gain plus and minus twice its standard error. */
  readonly twoSeCovered: number;
}

/**
 * Share of windows whose interval for feed per gain holds the true ratio, which
 * is feed given over true gain. Windows whose regression gain is not above zero
 * have no feed per gain and are counted apart. `draws` above 0: bootstrap-t in
 * place of Fieller's interval.
 */
export function conversionCoverage(
  s: ConversionScenario,
  runs: number,
  seed: number,
  options: { readonly errors?: ErrorsBetweenDays; readonly draws?: number } = {},
): Coverage {
  const { errors = "serial", draws = 0 } = options;
  const random = seededRandom(seed);
  const days = s.weighings - 1;
  const truth = s.feedGPerD / s.gainGPerD;
  const feeds = s.feedsPerD * days;
  const x = Array.from({ length: s.weighings }, (_, i) => i);
  const count = { covered: 0, tooHigh: 0, tooLow: 0, unbounded: 0, notDefined: 0 };
  const gain = { covered: 0, width: 0, twoSe: 0 };
  for (let run = 0; run < runs; run++) {
    const { own, evidence } = errorsOf(s, errors, random);
    const y = x.map((d, i) => 2000 + s.gainGPerD * d + s.massSd * own[i]!);
    const fit = serialSlope(x, y, { errors, level: 0.95, evidence });
    const feed = s.feedGPerD * days + Math.sqrt(feeds) * random.normal();
    if (fit.interval.lower! <= s.gainGPerD && s.gainGPerD <= fit.interval.upper!) gain.covered++;
    if (Math.abs(fit.slope - s.gainGPerD) <= 2 * fit.se) gain.twoSe++;
    gain.width += (fit.interval.upper! - fit.interval.lower!) / runs;
    if (!(fit.slope > 0)) {
      count.notDefined++;
      continue;
    }
    const parts = {
      numerator: feed,
      denominator: fit.slope * days,
      numeratorVariance: feeds,
      denominatorVariance: (fit.se * days) ** 2,
    };
    let [tLow, tHigh] = [fit.multiple, fit.multiple];
    if (draws > 0) {
      const pivots = slopePivots(x, y, draws, random);
      const at = (p: number) => pivots[Math.round(p * (draws + 1)) - 1]!;
      [tLow, tHigh] = [Math.max(0, -at(0.025)), Math.max(0, at(0.975))];
    }
    const low = ratioSet(parts, tLow);
    const high = ratioSet(parts, tHigh);
    const lower = low.kind === "bounded" ? low.lower : low.kind === "two rays" ? low.above : 0;
    const upper = high.kind === "bounded" ? high.upper : Number.POSITIVE_INFINITY;
    if (upper === Number.POSITIVE_INFINITY) count.unbounded++;
    if (truth < lower) count.tooHigh++;
    else if (truth > upper) count.tooLow++;
    else count.covered++;
  }
  const judged = runs - count.notDefined;
  return {
    covered: count.covered / judged,
    tooHigh: count.tooHigh / judged,
    tooLow: count.tooLow / judged,
    unbounded: count.unbounded / judged,
    notDefined: count.notDefined / runs,
    gainCovered: gain.covered / runs,
    gainWidth: gain.width,
    twoSeCovered: gain.twoSe / runs,
  };
}

const stretch = 14;
const stretchDays = Array.from({ length: stretch }, (_, i) => i);

/** Errors of the window, in units of their spread, and what is known beside it. */
function errorsOf(s: ConversionScenario, errors: ErrorsBetweenDays, random: Random) {
  const earlier = s.earlier ?? 0;
  const whole = series(s, earlier * stretch + s.weighings, random);
  const others = Array.from({ length: s.others ?? 0 }, () => series(s, stretch, random));
  const before = Array.from({ length: earlier }, (_, k) =>
    whole.slice(k * stretch, (k + 1) * stretch),
  );
  const known = errors === "serial" ? [...before, ...others] : [];
  return {
    own: whole.slice(earlier * stretch),
    evidence: sumStretches(
      known.map((y) => ({
        to: 0,
        weighings: stretch,
        logLikelihood: serialLikelihood(stretchDays, y),
      })),
    ),
  };
}

/** Errors of neighbouring days, variance 1. */
function series(s: ConversionScenario, n: number, random: Random): number[] {
  const phi = s.correlation ?? 0;
  const scale = s.scaleShare ?? 0;
  const fresh = () => (s.tails === "heavy" ? heavy(random) : random.normal());
  let gut = fresh();
  return Array.from({ length: n }, (_, i) => {
    if (i > 0) gut = phi * gut + Math.sqrt(1 - phi * phi) * fresh();
    return scale === 0 ? gut : Math.sqrt(1 - scale) * gut + Math.sqrt(scale) * random.normal();
  });
}

/** Student's t with 5 df, scaled to variance 1. */
function heavy(random: Random): number {
  let chi = 0;
  for (let k = 0; k < 5; k++) chi += random.normal() ** 2;
  return random.normal() / Math.sqrt(chi / 5) / Math.sqrt(5 / 3);
}
