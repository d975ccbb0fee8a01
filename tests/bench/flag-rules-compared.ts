import type { WatchedAnimal } from "../../src/flags/watch/watch-group.js";
import type { SimulatedCohort } from "./simulated-cohorts.js";

/**
 * Rule (a): gain over 3 days below c, or fall from the peak of 7 days above p,
 * both scaled together. Strength 1 at scale x means c = (1 - 0.5 x) %/d and
 * p = 3 x %: the larger x, the rarer. Returned: the x at which each day would
 * just be named.
 */
export function ruleOfThumb(a: WatchedAnimal): Float64Array {
  const n = a.time.length;
  const out = new Float64Array(n).fill(Number.NaN);
  for (let j = 0; j < n; j++) {
    let back = -1;
    let peak = a.logMass[j]!;
    for (let i = j - 1; i >= 0 && a.day[j]! - a.day[i]! <= 7; i--) {
      if (back < 0 && a.day[j]! - a.day[i]! >= 3) back = i;
      peak = Math.max(peak, a.logMass[i]!);
    }
    if (back < 0) continue;
    const gain = (100 * (a.logMass[j]! - a.logMass[back]!)) / (a.time[j]! - a.time[back]!);
    const fall = 100 * (1 - Math.exp(a.logMass[j]! - peak));
    out[j] = Math.max((1 - gain) / 0.5, fall / 3);
  }
  return out;
}

/** Rule (b): 7-day regression gain below c; strength is c's distance below 1 %/d, in %/d. */
export function regressionRule(a: WatchedAnimal): Float64Array {
  const n = a.time.length;
  const out = new Float64Array(n).fill(Number.NaN);
  for (let j = 0; j < n; j++) {
    let k = 0;
    let st = 0;
    let sy = 0;
    let first = j;
    for (let i = j; i >= 0 && a.day[j]! - a.day[i]! < 7; i--) {
      k++;
      st += a.time[i]!;
      sy += a.logMass[i]!;
      first = i;
    }
    if (k < 4) continue;
    let xx = 0;
    let xy = 0;
    for (let i = first; i <= j; i++) {
      xx += (a.time[i]! - st / k) ** 2;
      xy += (a.time[i]! - st / k) * (a.logMass[i]! - sy / k);
    }
    // Shifted so that thresholds stay positive.
    out[j] = 3 - (100 * xy) / xx;
  }
  return out;
}

/**
 * The limit: knows the true curve and the noise, and scans the likelihood ratio
 * of a gain halved on each earlier day.
 */
export function oracle(cohort: SimulatedCohort, i: number, noiseSd: number): Float64Array {
  const a = cohort.animals[i]!;
  const truth = cohort.truth[i]!;
  const n = a.time.length;
  const out = new Float64Array(n).fill(Number.NaN);
  for (let j = 1; j < n; j++) {
    let best = Number.NEGATIVE_INFINITY;
    for (let start = j - 1; start >= 0; start--) {
      let ratio = 0;
      for (let m = start + 1; m <= j; m++) {
        const d = -0.5 * (truth[m]! - truth[start]!);
        ratio += (d * (a.logMass[m]! - truth[m]!) - 0.5 * d * d) / noiseSd ** 2;
      }
      if (ratio > best) best = ratio;
    }
    out[j] = Math.max(0, best);
  }
  return out;
}
