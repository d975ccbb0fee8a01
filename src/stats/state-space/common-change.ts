import { solveLowerInPlace } from "../linear-algebra/small-matrix.js";
import { slopeAt } from "./hat-slopes.js";
import type { MixedSeries } from "./mixed-series.js";
import type { ChangeSettings } from "./slope-change.js";
import type { SlopeMixture } from "./slope-mixture.js";
import { gainFields } from "./wandering-slope.js";

/** One series of a group, and what is added to its times to come to the axis that all share. */
export interface CommonMember {
  readonly series: MixedSeries;
  readonly offset: number;
}

export interface CommonChange {
  /** Log of the Bayes factor of a change shared by all within the look-back, against none. */
  readonly evidence: number;
  /** Where on the common axis it most likely began. */
  readonly since: number;
  /** Slope that all are missing since then, mean over the series, and its standard error. */
  readonly missing: number;
  readonly se: number;
}

/** Sets of parameters looked at, the heaviest first, and moments this far apart. */
const mostSets = 8;
const apart = 2;
/** A change is looked for no nearer to the newest value than this. */
const newestApart = 3;
const each = gainFields;

/**
 * Whether the slopes of all series of a group fell short together from one moment of
 * the axis they share (a day of the calendar): what no series shows against the others.
 * It shows against series that were there before, and against what is believed of the
 * mean slope beforehand. Bayes factor, averaged over moment, size and everything that is
 * believed, with the numbers of `slopeChange` summed over the series.
 *
 * @returns null where fewer than two series have two values.
 */
export function commonChange(
  group: SlopeMixture,
  members: readonly CommonMember[],
  settings: ChangeSettings,
): CommonChange | null {
  const { width, factor, coefficients } = group;
  const { parameters, knots } = group.prior;
  const stride = width + 1;
  const used = members.filter((m) => m.series.count >= 2);
  if (used.length < 2) return null;
  const ends = used.map((m) => m.series.time[m.series.count - 1]! + m.offset);
  const newest = Math.max(...ends);
  const first = Math.min(...used.map((m) => m.series.time[0]! + m.offset));
  const moments: number[] = [];
  for (let back = newestApart; back <= settings.lookBack; back += apart) {
    moments.push(Math.max(first, newest - back));
    if (newest - back <= first) break;
  }
  const slope = (t: number) => Math.max(settings.leastSlope, slopeAt(knots, group.slopes, t));
  const lost = used.map(({ series: s }) => {
    const out = new Float64Array(s.count);
    for (let j = 1; j < s.count; j++) {
      const dt = s.time[j]! - s.time[j - 1]!;
      out[j] = out[j - 1]! - dt * slope(0.5 * (s.time[j]! + s.time[j - 1]!));
    }
    return out;
  });
  const ratios = moments.map(() => ({ sum: 0, missing: 0, precision: 0 }));
  const dx = new Float64Array(width);
  const solved = new Float64Array(width);
  for (const [k, rivals] of group.heaviest(settings.leastShare ?? 0.01, mostSets)) {
    moments.forEach((moment, m) => {
      let dd = 0;
      let dy = 0;
      dx.fill(0);
      used.forEach(({ series: s, offset }, i) => {
        const from = moment - offset;
        if (s.time[s.count - 1]! <= from) return;
        const { rows, gains } = s.runOf(k, parameters[k]!, width);
        let [a, b, w, u] = [0, 0, 0, 0];
        let start = 1;
        while (s.time[start]! <= from) start++;
        // What was lost before the moment: between two values in proportion.
        const last = s.time[start - 1]!;
        const part = Math.max(0, (from - last) / (s.time[start]! - last));
        const before = lost[i]![start - 1]! + part * (lost[i]![start]! - lost[i]![start - 1]!);
        for (let j = start; j < s.count; j++) {
          const step = s.step[j]!;
          const g = j * each;
          a += step.scale * (step.dt * b + step.reach * w);
          b *= step.keepOwn;
          w *= step.keepWander;
          u *= step.keepLasting;
          const v = lost[i]![j]! - before - a - u;
          a += gains[g]! * v;
          b += gains[g + 1]! * v;
          w += gains[g + 2]! * v;
          u += gains[g + 3]! * v;
          if (s.serves[j] !== true || step.levelFreed > 0) continue;
          const e = v * gains[g + 4]!;
          const at = j * stride;
          dd += e * e;
          dy += e * rows[at + width]!;
          for (let c = s.low; c < s.high; c++) dx[c]! += e * rows[at + c]!;
        }
      });
      for (const { c, weight } of rivals) {
        const pair = c * parameters.length + k;
        let num = dy;
        for (let i = 0; i < width; i++) num -= dx[i]! * coefficients[pair * width + i]!;
        solved.set(dx);
        solveLowerInPlace(factor, width, solved, pair * width * width);
        let known = 0;
        for (let i = 0; i < width; i++) known += solved[i]! * solved[i]!;
        const q = Math.max(1e-9, dd - known);
        let ratio = 0;
        for (const { share, weight: of } of settings.missing)
          ratio += of * Math.exp(Math.min(300, share * num - 0.5 * share * share * q));
        const r = ratios[m]!;
        r.sum += weight * ratio;
        r.missing += weight * ratio * (num / q);
        r.precision += weight * ratio * q;
      }
    });
  }
  const best = ratios.reduce((b, r, m) => (r.sum > ratios[b]!.sum ? m : b), 0);
  const { sum, missing, precision } = ratios[best]!;
  if (!(sum > 0)) return null;
  // The change is a share of a slope that has itself followed it down: only their product tells.
  const slopes = used.map(({ series: s, offset }) => {
    const last = s.time[s.count - 1]!;
    return slope(0.5 * (Math.min(last, moments[best]! - offset) + last));
  });
  const scale = slopes.reduce((a, b) => a + b, 0) / slopes.length;
  return {
    evidence: Math.log(ratios.reduce((s, r) => s + r.sum, 0) / ratios.length),
    since: moments[best]!,
    missing: (scale * missing) / sum,
    se: scale * Math.sqrt(sum / precision),
  };
}
