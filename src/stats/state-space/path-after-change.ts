import { slopeAt } from "./hat-slopes.js";
import type { MixedSeries } from "./mixed-series.js";
import { carriedBy, type PathAheadOptions, type PathPart, pathOf, wayAhead } from "./path-ahead.js";
import {
  type ChangeSettings,
  momentsOf,
  mostSets,
  respond,
  roomFor,
  scoreOf,
  stepTable,
} from "./slope-change.js";
import type { SlopeMixture } from "./slope-mixture.js";

export interface PathAfterChangeOptions extends PathAheadOptions {
  readonly change: ChangeSettings;
  /** Chance, before anything is seen, that the slope fell short within the look-back. */
  readonly chance: number;
}

/** Parts below this share of the largest are passed over. */
const leastShare = 1e-4;

/**
 * The way of one series from its last value on, where its slope may have fallen short of
 * late: a mixture over no change and every moment and size that `slopeChange` weighs,
 * each with its share given all values. What fell short goes on falling short with
 * `slope: "own"`, and is made up from the last value on with `slope: "mean"`.
 *
 * For a change of share f the values seen less f times what was lost are as any other's,
 * so each part is the path without a change, moved by f times what is lost ahead less what
 * the filter and the mean slope have taken of it already; its standard deviation stays.
 *
 * @example
 * // 20 days at 0.02 a day, then 10 days at 0.01; the group is believed to rise by 0.02
 * const belief = { weight: 1, precision: Float64Array.of(1e8), pulled: Float64Array.of(2e6) };
 * const parameters = [{ noiseSd: 0.002, lastingShare: 0.1, wander: 0.03, spread: 0.05 }];
 * const group = new SlopeMixture({ knots: [0], parameters, weights: [1], beliefs: [belief] });
 * const series = new MixedSeries();
 * for (let day = 0; day <= 30; day++) group.append(series, day, 0.02 * day - 0.01 * Math.max(0, day - 20), 1e-6, 0.02, true);
 * group.settle();
 * const change = { lookBack: 42, missing: [{ share: 0.5, weight: 1 }], leastSlope: 0.001 };
 * const ahead = { times: [31, 32], scaleAt: () => 0.02, of: "level", change, chance: 0.1 };
 * const mean = pathAfterChange(group, series, ahead).reduce((sum, p) => sum + p.weight * p.mean[1], 0);
 * Math.round(1000 * mean) // 520
 */
export function pathAfterChange(
  mixture: SlopeMixture,
  s: MixedSeries,
  options: PathAfterChangeOptions,
): readonly PathPart[] {
  const { change, chance, times, slope = "own" } = options;
  const { width, slopes: meanSlopes } = mixture;
  const { parameters, knots } = mixture.prior;
  const way = wayAhead(mixture, s, options);
  const n = s.count;
  const { from, lost, moments } = momentsOf(mixture, s, change);
  let before = s.time[n - 1]!;
  let ahead = 0;
  // Lost by each time since the last value, were the whole mean slope missing.
  const lostAhead = times.map((time) => {
    const gain = Math.max(change.leastSlope, slopeAt(knots, meanSlopes, 0.5 * (before + time)));
    if (slope === "own") ahead -= (time - before) * gain;
    before = time;
    return ahead;
  });
  const bySet = mixture.heaviest(change.leastShare ?? 0.01, mostSets);
  const solved = mixture.solvedWith(bySet, s);
  const steps = stepTable(s, from);
  const room = roomFor(moments.length, width);
  const parts: PathPart[] = [];
  for (const [set, k] of [...bySet.keys()].entries()) {
    const run = s.runOf(k, parameters[k]!, width);
    respond(room, moments, s, { run, steps, lost, from, stride: width + 1 });
    for (const rival of solved[set]!) {
      const { factor } = rival;
      if (factor === null) continue;
      const { mean, sd, open } = pathOf(way, s, k, { ...rival, factor });
      parts.push({ weight: (1 - chance) * rival.weight, mean, sd });
      scoreOf(room, moments.length, s.low, s.high, width, rival);
      moments.forEach((moment, m) => {
        const until = m === 0 ? s.time[n - 1]! : s.time[moments[m - 1]!]!;
        const length = (until - s.time[moment]!) / change.lookBack;
        const soFar = lost[n - 1]! - lost[moment]!;
        const moved = times.map((_, i) => {
          let taken = carriedBy(
            way.reach[i]!,
            room.level[m]!,
            room.own[m]!,
            room.wander[m]!,
            room.lasting[m]!,
          );
          for (let j = s.low; j < width; j++)
            taken += open[i]![j]! * room.solved[j * moments.length + m]!;
          return soFar + lostAhead[i]! - taken;
        });
        for (const { share, weight } of change.missing) {
          const exponent = share * room.num[m]! - 0.5 * share * share * room.square[m]!;
          const ratio = Math.exp(Math.min(300, exponent));
          parts.push({
            weight: chance * rival.weight * length * weight * ratio,
            mean: mean.map((v, i) => v + share * moved[i]!),
            sd,
          });
        }
      });
    }
  }
  const most = parts.reduce((w, p) => Math.max(w, p.weight), 0);
  const kept = parts.filter((p) => p.weight >= leastShare * most);
  const total = kept.reduce((sum, p) => sum + p.weight, 0);
  return kept.map((p) => ({ ...p, weight: p.weight / total }));
}
