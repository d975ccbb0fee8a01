import type { LongWork } from "../core/long-work.js";
import { type Measured, measured } from "../core/measured.js";
import type { AskedGiven } from "../core/messages/seasons.js";
import { type Notice, notice } from "../core/notice.js";
import type { AdjustedModel } from "./adjusted-model.js";
import type { ArrivalBelief } from "./arrival-belief.js";
import {
  type ArrivalNearSeason,
  arrivalNearSeason,
  arrivalSentence,
} from "./arrival-near-season.js";
import { boundedArrival } from "./bounded-arrival.js";
import { interimP } from "./compare-pair.js";
import { type DetectableDifference, detectableDifference } from "./detectable-difference.js";
import { estimateByT, type PairEstimate } from "./pair-estimate.js";
import type { SeasonGain } from "./season-gain.js";
import { unadjustedDifference } from "./unadjusted-difference.js";

/** One season against all earlier ones together: the one question asked beforehand. */
export interface AskedSeason {
  readonly season: string;
  readonly earlier: readonly string[];
  /** Animals of the season, and of the earlier ones. */
  readonly n: number;
  readonly nEarlier: number;
  /** Adjusted mean gain of the season less that of the earlier animals, g/d. */
  readonly difference: Measured;
  readonly df: number;
  readonly p: number;
  readonly differs: boolean;
  /** Where arrival nearly tells the season; null elsewhere. */
  readonly arrival: ArrivalNearSeason | null;
  /** The smallest true difference found four times in five; null where it was not asked for. */
  readonly detectable: DetectableDifference | null;
  readonly sentences: readonly Notice[];
}

/**
 * The season asked about against the animals of all earlier seasons: the
 * difference of its adjusted mean from theirs, each earlier season counted by its
 * animals, by Student's t in the same model. It is one question, so nothing is
 * corrected for. Where arrival nearly tells the season, slopes on arrival are shrunk
 * (`boundedArrival`). Where births are known only to a range, the widest interval and
 * the largest p of the fits at both ends count. Null where the season has too few
 * animals, or none came before it.
 */
export function askedSeason(
  model: AdjustedModel,
  ends: readonly AdjustedModel[],
  animals: readonly SeasonGain[],
  season: string,
  options: LongWork & {
    readonly level?: number;
    readonly runs?: number;
    readonly belief?: ArrivalBelief | null;
  },
  /** Seasons with animals still to come through the window. */
  toCome: readonly string[] = [],
): AskedSeason | null {
  const earlier = model.seasons.filter((s) => s < season);
  if (!model.seasons.includes(season) || earlier.length === 0) return null;
  const level = options.level ?? 0.95;
  const count = (s: string) => animals.filter((a) => a.season === s).length;
  const n = count(season);
  const nEarlier = earlier.reduce((sum, s) => sum + count(s), 0);
  const weights = (m: AdjustedModel) =>
    m.seasons.map((s) => (s === season ? 1 : earlier.includes(s) ? -count(s) / nEarlier : 0));
  const free = estimate(model, weights(model), level);
  const bounded = (m: AdjustedModel) => boundedArrival(m, weights(m), level, options.belief);
  const near = bounded(model);
  const main = near ?? free;
  const other = (m: AdjustedModel) =>
    (near === null ? null : bounded(m)) ?? estimate(m, weights(m), level);
  const all = [main, ...ends.map(other)];
  const lower = Math.min(...all.map((e) => e.lower));
  const upper = Math.max(...all.map((e) => e.upper));
  const p = Math.max(...all.map((e) => e.p));
  const interim = [season, ...earlier].some((s) => toCome.includes(s));
  const differs = p < (interim ? interimP : 1 - level);
  const arrival = arrivalNearSeason(near, free, level);
  const runs = options.runs ?? 2000;
  const detectable =
    runs === 0 || !(model.residualSd > 0)
      ? null
      : detectableDifference({
          residualSd: model.residualSd,
          adjustments: model.used.length,
          level,
          seed: options.seed ?? 1,
          runs: 2000,
          perSeason: [nEarlier, n],
          freedom: model.n - model.seasons.length,
        });
  const given = {
    season,
    earlier,
    n,
    nEarlier,
    difference: main.difference,
    lower,
    upper,
    detectable: detectable?.difference ?? null,
    interim,
  };
  return {
    season,
    earlier,
    n,
    nEarlier,
    difference: measured(main.difference, "g/d", {
      se: main.se,
      n: n + nEarlier,
      interval: { lower, upper, level },
    }),
    df: model.df,
    p,
    differs,
    arrival,
    detectable,
    sentences: [
      answerOf(differs, arrival !== null && !interim, animals, given, level),
      ...(arrival === null ? [] : [arrivalSentence(earlier.join(", "), season, arrival)]),
    ],
  };
}

/** Where arrival nearly tells the season and plain gains differ, both answers are shown. */
function answerOf(
  differs: boolean,
  nearArrival: boolean,
  animals: readonly SeasonGain[],
  given: AskedGiven,
  level: number,
): Notice {
  if (differs) return notice("season-asked-differs", "info", given);
  const gains = (own: (season: string) => boolean) =>
    animals.filter((a) => own(a.season)).map((a) => a.gain);
  const plain = nearArrival
    ? unadjustedDifference(
        gains((s) => given.earlier.includes(s)),
        gains((s) => s === given.season),
        level,
      )
    : null;
  if (plain === null || plain.p >= 1 - level)
    return notice("season-asked-not-shown", "info", given);
  return notice("season-asked-not-separated", "caution", {
    ...given,
    plain: plain.difference,
    plainLower: plain.interval.lower,
    plainUpper: plain.interval.upper,
  });
}

/** The estimate of a weighted sum of adjusted means. */
function estimate(model: AdjustedModel, weights: readonly number[], level: number): PairEstimate {
  const difference = weights.reduce((sum, w, i) => sum + w * model.adjustedMeans[i]!, 0);
  const variance = weights.reduce(
    (sum, a, i) => sum + weights.reduce((s, b, j) => s + a * b * model.unscaled[i]![j]!, 0),
    0,
  );
  return estimateByT({ difference, se: model.residualSd * Math.sqrt(variance) }, model.df, level);
}
