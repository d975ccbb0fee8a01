import { type Random, seededRandom } from "../../src/core/random.js";
import { ratioSet } from "../../src/rates/ratio-interval.js";
import { slopePivots } from "../../src/rates/slope-pivots.js";
import { studentTQuantile } from "../../src/stats/distributions/student-t.js";

/** How one window of an animal is simulated. */
export interface ConversionScenario {
  readonly name: string;
  /** Daily weighings; the window is one day shorter. */
  readonly weighings: number;
  readonly gainGPerD: number;
  readonly massSd: number;
  readonly feedGPerD: number;
  readonly feedsPerD: number;
  readonly noise: "normal" | "heavy tails" | "serial";
}

export interface Coverage {
  readonly covered: number;
  readonly tooHigh: number;
  readonly tooLow: number;
  readonly unbounded: number;
  readonly notDefined: number;
}

/**
 * Share of windows whose interval for feed per gain holds the true ratio, which
 * is feed given over true gain. Windows whose regression gain is not above zero
 * have no feed per gain and are counted apart. `draws` 0: Fieller; else bootstrap.
 */
export function conversionCoverage(
  s: ConversionScenario,
  runs: number,
  seed: number,
  draws = 0,
): Coverage {
  const random = seededRandom(seed);
  const days = s.weighings - 1;
  const truth = s.feedGPerD / s.gainGPerD;
  const feeds = s.feedsPerD * days;
  const x = Array.from({ length: s.weighings }, (_, i) => i);
  const count = { covered: 0, tooHigh: 0, tooLow: 0, unbounded: 0, notDefined: 0 };
  const student = studentTQuantile(0.975, s.weighings - 2);
  for (let run = 0; run < runs; run++) {
    const errors = noise(s, random);
    const y = x.map((d, i) => 2000 + s.gainGPerD * d + s.massSd * errors[i]!);
    const { slope, se } = line(x, y);
    const feed = s.feedGPerD * days + Math.sqrt(feeds) * random.normal();
    if (!(slope > 0)) {
      count.notDefined++;
      continue;
    }
    const parts = {
      numerator: feed,
      denominator: slope * days,
      numeratorVariance: feeds,
      denominatorVariance: (se * days) ** 2,
    };
    let [tLow, tHigh] = [student, student];
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
  };
}

function noise(s: ConversionScenario, random: Random): number[] {
  const n = s.weighings;
  if (s.noise === "normal") return Array.from({ length: n }, () => random.normal());
  if (s.noise === "heavy tails") {
    // Student's t with 5 df, scaled to variance 1.
    return Array.from({ length: n }, () => {
      let chi = 0;
      for (let k = 0; k < 5; k++) chi += random.normal() ** 2;
      return random.normal() / Math.sqrt(chi / 5) / Math.sqrt(5 / 3);
    });
  }
  const out: number[] = [];
  for (let i = 0; i < n; i++) {
    out.push(i === 0 ? random.normal() : 0.5 * out[i - 1]! + Math.sqrt(0.75) * random.normal());
  }
  return out;
}

function line(x: readonly number[], y: readonly number[]) {
  const n = x.length;
  const mx = (n - 1) / 2;
  const my = y.reduce((a, b) => a + b, 0) / n;
  let sxx = 0;
  let sxy = 0;
  for (let i = 0; i < n; i++) {
    sxx += (x[i]! - mx) ** 2;
    sxy += (x[i]! - mx) * (y[i]! - my);
  }
  const slope = sxy / sxx;
  const rss = x.reduce((s, v, i) => s + (y[i]! - my - slope * (v - mx)) ** 2, 0);
  return { slope, se: Math.sqrt(rss / (n - 2) / sxx) };
}
