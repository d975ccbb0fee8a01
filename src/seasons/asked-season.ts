import type { LongWork } from "../core/long-work.js";
import { type Measured, measured } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { AdjustedModel } from "./adjusted-model.js";
import { interimP } from "./compare-pair.js";
import { type DetectableDifference, detectableDifference } from "./detectable-difference.js";
import { estimateByT, type PairEstimate } from "./pair-estimate.js";
import type { SeasonGain } from "./season-gain.js";

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
  /** The smallest true difference found four times in five; null where it was not asked for. */
  readonly detectable: DetectableDifference | null;
  readonly sentences: readonly Notice[];
}

/**
 * The season asked about against the animals of all earlier seasons: the
 * difference of its adjusted mean from theirs, each earlier season counted by its
 * animals, by Student's t in the same model. It is one question, so nothing is
 * corrected for. Where births are known only to a range, the widest interval and
 * the largest p of the fits at both ends count. Null where the season has too few
 * animals, or none came before it.
 */
export function askedSeason(
  model: AdjustedModel,
  ends: readonly AdjustedModel[],
  animals: readonly SeasonGain[],
  season: string,
  options: LongWork & { readonly level?: number; readonly runs?: number },
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
  const main = estimate(model, weights(model), level);
  const all = [main, ...ends.map((m) => estimate(m, weights(m), level))];
  const lower = Math.min(...all.map((e) => e.lower));
  const upper = Math.max(...all.map((e) => e.upper));
  const p = Math.max(...all.map((e) => e.p));
  const interim = [season, ...earlier].some((s) => toCome.includes(s));
  const differs = p < (interim ? interimP : 1 - level);
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
    detectable,
    sentences: [notice(differs ? "season-asked-differs" : "season-asked-not-shown", "info", given)],
  };
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
