import { solveLowerInPlace } from "../../stats/state-space/group-fit.js";
import type { MeanGainEstimate } from "./mean-gain-curve.js";
import type { RunningAnimal } from "./running-animal.js";
import type { SuspectedChange } from "./watched-day.js";

export interface SlowingScan {
  /** Log likelihood ratio at the worst moment; NaN where there was none to look at. */
  readonly ratio: number;
  readonly change: SuspectedChange | null;
}

export interface SlowingSettings {
  /** Share of the expected gain suspected to be missing. */
  readonly shortfall: number;
  readonly lookBackD: number;
}

/** Gain below which the expected gain is not taken, so that a change stays visible. */
const leastGain = 0.002;

/**
 * A scan over the moments at which an animal's gain may have fallen by
 * `shortfall`: for each of its weighings in the last `lookBackD` days, the log
 * likelihood ratio of a fall there against none, the group's curve and the
 * animal's own earlier gain with their errors (generalised least squares). The
 * rooms are reused from call to call.
 *
 * @example slowingScan(60)(animal, mean, expectedGain, { shortfall: 0.5, lookBackD: 42 }).ratio // 3.1
 */
export function slowingScan(longest: number) {
  const columnRoom = new Float64Array(longest);
  const innovationRoom = new Float64Array(longest);
  const likelihoodRoom = new Float64Array(longest);
  return (
    w: RunningAnimal,
    mean: MeanGainEstimate,
    expectedGain: (time: number) => number,
    settings: SlowingSettings,
  ): SlowingScan => {
    const { count, filtered } = w;
    const { factor, gains } = mean;
    const width = gains.length;
    const stride = width + 1;
    const t = w.source.time;
    let best = Number.NEGATIVE_INFINITY;
    let bestIndex = -1;
    let bestNumerator = 0;
    let bestDenominator = 1;
    const innovationY = innovationRoom;
    for (let j = 1; j < count; j++) {
      let e = filtered[j * stride + width]!;
      for (let k = 0; k < width; k++) e -= filtered[j * stride + k]! * gains[k]!;
      innovationY[j] = e;
    }
    const likelihood = likelihoodRoom;
    let earliestStart = Math.max(0, count - 2);
    const d = columnRoom;
    const dx = new Float64Array(width);
    for (let start = count - 2; start >= 0; start--) {
      if (t[count - 1]! - t[start]! > settings.lookBackD) break;
      // ln mass lost since the start, were the gain short from there on.
      d[start] = 0;
      for (let j = start + 1; j < count; j++) {
        const dt = t[j]! - t[j - 1]!;
        const rate = Math.max(leastGain, expectedGain(0.5 * (t[j]! + t[j - 1]!)));
        d[j] = d[j - 1]! - settings.shortfall * rate * dt;
      }
      // Filter the suspected change and take its products on the way.
      const { table } = w.gains!;
      let a = 0;
      let s = 0;
      let u = 0;
      let dd = 0;
      let dy = 0;
      dx.fill(0);
      for (let j = start + 1; j < count; j++) {
        const at = j * 7;
        if (j > start + 1) {
          a += s * table[at]!;
          s *= table[at + 1]!;
          u *= table[at + 2]!;
        }
        const v = d[j]! - a - u;
        a += table[at + 3]! * v;
        s += table[at + 4]! * v;
        u += table[at + 5]! * v;
        const e = v * table[at + 6]!;
        dd += e * e;
        dy += e * innovationY[j]!;
        for (let k = 0; k < width; k++) dx[k]! += e * filtered[j * stride + k]!;
      }
      solveLowerInPlace(factor, width, dx);
      let known = 0;
      for (let k = 0; k < width; k++) known += dx[k]! * dx[k]!;
      const denominator = Math.max(1e-9, dd - known);
      const ratio = dy - 0.5 * denominator;
      if (ratio > best) {
        best = ratio;
        bestIndex = start;
        bestNumerator = dy;
        bestDenominator = denominator;
      }
      // Likelihood of a change here with the best shortfall, for the interval of its day.
      likelihood[start] = dy > 0 ? (dy * dy) / (2 * denominator) : 0;
      earliestStart = start;
    }
    if (bestIndex < 0) return { ratio: Number.NaN, change: null };
    const [earliest, latest] = mostLikelyRange(likelihood, earliestStart, count - 2);
    return {
      ratio: best,
      change: {
        index: bestIndex,
        missing: (settings.shortfall * bestNumerator) / bestDenominator,
        se: settings.shortfall / Math.sqrt(bestDenominator),
        earliest,
        latest,
      },
    };
  };
}

/** First and last index that leave 5 % of the probability outside on either side. */
function mostLikelyRange(log: Float64Array, from: number, to: number): readonly [number, number] {
  let most = Number.NEGATIVE_INFINITY;
  for (let i = from; i <= to; i++) most = Math.max(most, log[i]!);
  let total = 0;
  for (let i = from; i <= to; i++) total += Math.exp(log[i]! - most);
  let low = from;
  let high = to;
  let sum = 0;
  for (let i = from; i <= to; i++) {
    const before = sum;
    sum += Math.exp(log[i]! - most);
    if (before <= 0.05 * total) low = i;
    if (before < 0.95 * total) high = i;
  }
  return [low, high];
}
