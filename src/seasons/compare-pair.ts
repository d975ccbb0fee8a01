import type { LongWork } from "../core/long-work.js";
import { measured } from "../core/measured.js";
import type { AdjustedModel } from "./adjusted-model.js";
import type { ArrivalBelief } from "./arrival-belief.js";
import { arrivalNearSeason } from "./arrival-near-season.js";
import { type BoundedArrival, boundedArrival } from "./bounded-arrival.js";
import { animalsNeeded, detectableDifference } from "./detectable-difference.js";
import { pairEquivalence } from "./pair-equivalence.js";
import { type PairEstimate, pairEstimate, tukeyP } from "./pair-estimate.js";
import { pairSentences } from "./pair-sentences.js";
import { resampleDifference } from "./resample-difference.js";
import type { SeasonGain } from "./season-gain.js";
import type { SeasonPair } from "./season-pair.js";
import { unadjustedDifference } from "./unadjusted-difference.js";

export interface PairOptions extends LongWork {
  readonly level?: number;
  readonly margin?: number;
  readonly runs?: number;
  /** True while animals of these seasons are still to come through the window. */
  readonly interim?: boolean;
  /** What prior files say of a later arrival. */
  readonly belief?: ArrivalBelief | null;
}

/**
 * While a season runs, a difference is called one only below this p, so that looking again
 * each week adds at most a tenth of a point a look to the share of false ones (Haybittle
 * 1971 Br J Radiol 44:793-797; Peto et al. 1976 Br J Cancer 34:585-612).
 */
export const interimP = 0.001;

interface UndecidedPair {
  readonly p: number;
  decide(adjustedP: number, pairs: number): SeasonPair;
}

/** Compares two seasons of a fitted model; the decision waits for the other pairs' p. */
export function comparePair(
  model: AdjustedModel,
  ends: readonly AdjustedModel[],
  animals: readonly SeasonGain[],
  from: string,
  to: string,
  options: PairOptions,
): UndecidedPair {
  const level = options.level ?? 0.95;
  const free = pairEstimate(model, from, to, level);
  // Where arrival nearly tells the season, slopes on arrival are shrunk.
  const bounded = (m: AdjustedModel) =>
    boundedArrival(m, contrastOfPair(m, from, to), level, options.belief);
  const arrival = bounded(model);
  const estimate = (m: AdjustedModel) =>
    (arrival === null ? null : bounded(m)) ?? pairEstimate(m, from, to, level);
  const main = arrival ?? free;
  const all = [main, ...ends.map(estimate)];
  const lower = Math.min(...all.map((e) => e.lower));
  const upper = Math.max(...all.map((e) => e.upper));
  const p = Math.max(...all.map((e) => e.p));
  const of = (season: string) => animals.filter((a) => a.season === season).map((a) => a.gain);
  const na = of(from).length;
  const nb = of(to).length;
  const runs = options.runs ?? 1999;
  const equivalence =
    options.margin === undefined
      ? null
      : pairEquivalence(all.flatMap(bothEnds), options.margin, level);
  return {
    p,
    decide: (adjustedP, pairs) => {
      const unadjusted = unadjustedDifference(of(from), of(to), level);
      const differs = adjustedP < (options.interim === true ? interimP : 1 - level);
      const plainly = (unadjusted?.p ?? 1) < (1 - level) / pairs;
      const decision = differs
        ? "differs"
        : equivalence?.shown === true
          ? "alike within the margin"
          : arrival !== null && plainly && options.interim !== true
            ? "cannot be separated"
            : "not shown";
      // Gains that all lie on the model leave nothing to reorder.
      const size = Math.max(...model.response.map(Math.abs));
      const resampled =
        runs === 0 || !(model.residualSd > 1e-9 * size)
          ? null
          : resampleDifference(model, from, to, { ...options, runs, level });
      const power = {
        residualSd: model.residualSd,
        adjustments: model.used.length,
        level: 1 - (1 - level) / pairs,
        seed: options.seed ?? 1,
        runs: 2000,
      };
      const detectable =
        runs === 0 || !(model.residualSd > 0)
          ? null
          : detectableDifference({
              ...power,
              perSeason: [na, nb],
              freedom: model.n - model.seasons.length,
            });
      const base = {
        from,
        to,
        difference: measured(main.difference, "g/d", {
          se: main.se,
          n: na + nb,
          interval: { lower, upper, level },
        }),
        df: model.df,
        p,
        adjustedP,
        tukeyP: tukeyP(free.difference / free.se, model),
        arrival: arrivalNearSeason(arrival, free, level),
        decision,
        equivalence,
        unadjusted,
        resampled,
        detectable,
      } as const;
      const needed =
        detectable === null || decision === "differs" || !(Math.abs(main.difference) > 0)
          ? undefined
          : animalsNeeded(Math.abs(main.difference), { ...power, runs: 1000 });
      return { ...base, sentences: pairSentences(base, model.residualSd, na, nb, needed) };
    },
  };
}

function contrastOfPair(model: AdjustedModel, from: string, to: string): number[] {
  return model.seasons.map((s) => (s === to ? 1 : s === from ? -1 : 0));
}

/** With what arrival may still have moved it, either way. */
function bothEnds(e: PairEstimate | BoundedArrival) {
  const bias = "bias" in e ? e.bias : 0;
  return bias === 0
    ? [e]
    : [-bias, bias].map((shift) => ({ ...e, difference: e.difference + shift }));
}
