import { solveLowerInPlace } from "../linear-algebra/small-matrix.js";
import { slopeAt } from "./hat-slopes.js";
import type { MixedSeries } from "./mixed-series.js";
import type { SlopeMixture } from "./slope-mixture.js";
import { gainFields } from "./wandering-slope.js";

export interface ChangeSettings {
  /** Changes are looked for up to this long before the newest value. */
  readonly lookBack: number;
  /** Shares of the mean slope that may be missing, with their weights (sum 1). */
  readonly missing: readonly { readonly share: number; readonly weight: number }[];
  /** Slope taken where the mean slope is less, so that a change stays visible. */
  readonly leastSlope: number;
  /** Pairs of parameters and beliefs below this share of the largest are passed over. Default 0.01. */
  readonly leastShare?: number;
}

export interface SlopeChange {
  /**
   * Log of the Bayes factor of a change of slope within the look-back, all moments
   * equally likely before, against none.
   */
  readonly evidence: number;
  /** Index of the value after which the change most likely began. */
  readonly index: number;
  /** Share of the slope that is missing since then, and its standard error. */
  readonly missing: number;
  readonly se: number;
  /** Indices that leave 5 % of the probability outside on either side. */
  readonly earliest: number;
  readonly latest: number;
}

/** At most so many sets of parameters are looked at, the heaviest first. */
const mostSets = 20;
const gainsEach = gainFields;

/**
 * Whether the slope of one series fell short of the mean at some moment of late:
 * the Bayes factor, averaged over the moment, the size of the change and everything
 * that is believed of the group. For one moment, one size f and one set of
 * parameters the log likelihood ratio is f n - f^2 q / 2 with n and q from
 * generalised least squares, so that sizes cost nothing.
 *
 * Averaged over all that is unknown, the expectation of the Bayes factor without a
 * change is 1 whatever the parameters are; a threshold therefore needs no allowance
 * for the size of the group or for how restless it is.
 *
 * Source: Shiryaev (1963) and Roberts (1966) for the average over moments;
 * conditional inference for n and q as in `SlopeMixture`.
 *
 * @example
 * // 20 days at 0.02 a day, then 10 days at nothing, a group believed to rise by 0.02
 * const belief = { weight: 1, precision: Float64Array.of(1e6), pulled: Float64Array.of(2e4) };
 * const parameters = [{ noiseSd: 0.01, lastingShare: 0.3, wander: 0.1, spread: 0.1 }];
 * const group = new SlopeMixture({ knots: [0], parameters, weights: [1], beliefs: [belief] });
 * const series = new MixedSeries();
 * for (let day = 0; day < 30; day++) group.append(series, day, 0.02 * Math.min(day, 20), 1e-5, 0.02, true);
 * group.settle();
 * const missing = [{ share: 0.5, weight: 0.5 }, { share: 1, weight: 0.5 }];
 * slopeChange(group, series, { lookBack: 14, missing, leastSlope: 0.001 }).index // 20
 */
export function slopeChange(
  group: SlopeMixture,
  s: MixedSeries,
  settings: ChangeSettings,
): SlopeChange | null {
  const { width } = group;
  const { parameters, knots } = group.prior;
  const stride = width + 1;
  const n = s.count;
  if (n < 2) return null;
  const newest = s.time[n - 1]!;
  let from = n - 2;
  while (from > 0 && newest - s.time[from - 1]! <= settings.lookBack) from--;
  // Lost since the first moment looked at, were the whole mean slope missing.
  const lost = new Float64Array(n);
  for (let j = from + 1; j < n; j++) {
    const dt = s.time[j]! - s.time[j - 1]!;
    const middle = 0.5 * (s.time[j]! + s.time[j - 1]!);
    lost[j] =
      lost[j - 1]! - dt * Math.max(settings.leastSlope, slopeAt(knots, group.slopes, middle));
  }
  const starts = n - 1 - from;
  const factorOf = new Float64Array(starts);
  const missingOf = new Float64Array(starts);
  const precisionOf = new Float64Array(starts);
  const bySet = group.heaviest(settings.leastShare ?? 0.01, mostSets);
  // Products of the filtered change with the values and with the basis, by moment.
  const moments: number[] = [];
  for (let start = n - 2; start >= from; start--) {
    const back = newest - s.time[start]!;
    // Long ago two moments next to each other can hardly be told apart.
    if (back <= settings.lookBack / 3 || (n - start) % 2 === 0) moments.push(start);
  }
  const dx = new Float64Array(width);
  const solved = new Float64Array(width);
  const { low, high } = s;
  const steps = stepTable(s, from);
  for (const k of s.runs.keys()) if (!bySet.has(k)) s.runs.delete(k);
  for (const [k, list] of bySet) {
    const run = s.runOf(k, parameters[k]!, width);
    const { rows, gains } = run;
    const rivals = group.solvedWith(k, list, run, s);
    for (const start of moments) {
      let a = 0;
      let b = 0;
      let w = 0;
      let u = 0;
      let dd = 0;
      let dy = 0;
      dx.fill(0);
      for (let j = start + 1; j < n; j++) {
        const g = j * gainsEach;
        if (j > start + 1) {
          const t = (j - from) * stepNumbers;
          a += steps[t]! * (steps[t + 1]! * b + steps[t + 2]! * w);
          b *= steps[t + 3]!;
          w *= steps[t + 4]!;
          u *= steps[t + 5]!;
        }
        const v = lost[j]! - lost[start]! - a - u;
        a += gains[g]! * v;
        b += gains[g + 1]! * v;
        w += gains[g + 2]! * v;
        u += gains[g + 3]! * v;
        const e = v * gains[g + 4]!;
        dd += e * e;
        const at = j * stride;
        dy += e * rows[at + width]!;
        for (let i = low; i < high; i++) dx[i]! += e * rows[at + i]!;
      }
      for (const { factor, at, slopes, from: first, weight } of rivals) {
        if (factor === null) continue;
        let num = dy;
        for (let i = low; i < high; i++) num -= dx[i]! * slopes[first + i]!;
        solved.set(dx);
        solveLowerInPlace(factor, width, solved, at, low);
        let known = 0;
        for (let i = low; i < width; i++) known += solved[i]! * solved[i]!;
        const q = Math.max(1e-9, dd - known);
        let ratio = 0;
        for (const { share, weight: of } of settings.missing)
          ratio += of * Math.exp(Math.min(300, share * num - 0.5 * share * share * q));
        factorOf[start - from]! += weight * ratio;
        missingOf[start - from]! += weight * ratio * (num / q);
        precisionOf[start - from]! += weight * ratio * q;
      }
    }
  }
  let sum = 0;
  let best = 0;
  const mass = new Float64Array(starts);
  for (let m = 0; m < moments.length; m++) {
    // Moments from this value to the next one looked at are one, with its length as weight.
    const i = moments[m]! - from;
    const length = (m === 0 ? newest : s.time[moments[m - 1]!]!) - s.time[moments[m]!]!;
    mass[i] = (length / settings.lookBack) * factorOf[i]!;
    sum += mass[i]!;
    if (mass[i]! > mass[best]!) best = i;
  }
  if (!(sum > 0)) return null;
  const [earliest, latest] = middleNine(mass, sum);
  return {
    evidence: Math.log(sum),
    index: from + best,
    missing: missingOf[best]! / factorOf[best]!,
    se: Math.sqrt(factorOf[best]! / precisionOf[best]!),
    earliest: from + earliest,
    latest: from + latest,
  };
}

/** Numbers of a step that a change is carried by. */
const stepNumbers = 6;

/** The steps from a value on, number after number: read a thousand times, so no objects. */
function stepTable(s: MixedSeries, from: number): Float64Array {
  const out = new Float64Array((s.count - from) * stepNumbers);
  for (let j = from; j < s.count; j++) {
    const { scale, dt, reach, keepOwn, keepWander, keepLasting } = s.step[j]!;
    out.set([scale, dt, reach, keepOwn, keepWander, keepLasting], (j - from) * stepNumbers);
  }
  return out;
}

/** First and last place that leave 5 % of the mass outside on either side. */
function middleNine(mass: Float64Array, total: number): readonly [number, number] {
  let low = 0;
  let high = mass.length - 1;
  let before = 0;
  for (let i = 0; i < mass.length; i++) {
    if (before <= 0.05 * total) low = i;
    if (before < 0.95 * total) high = i;
    before += mass[i]!;
  }
  return [low, high];
}
