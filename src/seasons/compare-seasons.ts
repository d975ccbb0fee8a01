import type { LongWork } from "../core/long-work.js";
import { type Measured, measured } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { StudySeries } from "../series/animal-series.js";
import { isSameSpecies } from "../species/same-species.js";
import { adjustPValues } from "../stats/hypothesis-tests/adjust-p-values.js";
import {
  type AdjustedModel,
  type Adjustment,
  adjustments,
  fitAdjustedModel,
} from "./adjusted-model.js";
import { animalsToCome } from "./animals-to-come.js";
import { arrivalBelief } from "./arrival-belief.js";
import { type AskedSeason, askedSeason } from "./asked-season.js";
import { birthRangeModels } from "./birth-range-models.js";
import { comparePair, type PairOptions } from "./compare-pair.js";
import { adjustedErrors, type ComparedSeason, comparedSeason } from "./compared-season.js";
import { comparisonSentences } from "./comparison-sentences.js";
import { type AgeWindow, type GainWindow, isAgeWindow } from "./gain-window.js";
import { type MixedSeasons, mixedDifferences } from "./mixed-difference.js";
import { protocolSeasons } from "./protocol-seasons.js";
import { type ProtocolChangeSeason, protocolStatements } from "./protocol-statements.js";
import {
  enoughAnimals,
  type SeasonGain,
  type SeasonGainOptions,
  type SeasonGains,
  seasonGains,
} from "./season-gain.js";
import type { SeasonPair } from "./season-pair.js";
import { type SeasonSpread, seasonSpread } from "./season-spread.js";
import { type SlopeCheck, slopeCheck } from "./slope-check.js";

export interface CompareSeasonsOptions<W extends GainWindow = AgeWindow>
  extends Omit<SeasonGainOptions, "birth" | "window">,
    LongWork {
  readonly window: W;
  /** The one pair asked about beforehand; without it every pair is compared and p is adjusted (Holm). */
  readonly pair?: readonly [string, string];
  /** The season asked about, set against all earlier ones together. Default: the latest with animals enough. */
  readonly season?: string;
  readonly adjustFor?: readonly Adjustment[];
  /** Coverage of intervals. Default 0.95. */
  readonly level?: number;
  /** Differences smaller than this do not matter, g/d: asks for an equivalence test. */
  readonly margin?: number;
  /** Seasons under a changed protocol. Default: what the events table says. */
  readonly protocolChanges?: readonly ProtocolChangeSeason[];
  /** Random reorderings and bootstrap samples per pair; 0 leaves the checks out. Default 1999. */
  readonly runs?: number;
  /** Whether to fit the mixed model as well. Default true. */
  readonly mixed?: boolean;
}

export interface SeasonComparison<W extends GainWindow = AgeWindow> {
  readonly species: string;
  readonly window: W;
  readonly seasons: readonly ComparedSeason[];
  readonly animals: readonly SeasonGain[];
  readonly model: {
    readonly used: readonly Adjustment[];
    readonly df: number;
    readonly residualSd: Measured;
    readonly atArrivalMassG: number;
    /** Null only in a window of masses, where an age may be unusable. */
    readonly atArrivalAgeD: W extends AgeWindow ? number : number | null;
  } | null;
  /** The season asked about against the earlier ones; null where that cannot be asked. */
  readonly asked: AskedSeason | null;
  readonly pairs: readonly SeasonPair[];
  /** The same differences from all daily masses by a mixed model; a second view, not the decision. */
  readonly mixed: MixedSeasons | null;
  /** Does the effect of arrival mass differ by season? Shown, never used. */
  readonly slopes: SlopeCheck | null;
  readonly betweenSeasons: SeasonSpread | null;
  /** The whole answer as sentences, in reading order. */
  readonly sentences: readonly Notice[];
}

/**
 * Did the seasons' animals grow differently? The adjusted difference in mean
 * gain over a stated age window at a common arrival, by a linear model on
 * animals (each animal's regression gain counts once), with what checks it and
 * what limits it.
 *
 * The estimand, who is used and what is adjusted for are settled before gains
 * are looked at. Decision: p below 1 - level, Holm-adjusted where more than one
 * pair is compared; while animals of a season are still to come through the window,
 * p below 0.001, so that weekly looks cost nothing. Where arrival nearly tells the season,
 * slopes on arrival are shrunk, towards what prior files say where they tell it (`boundedArrival`). Where birth ranges exceed 3 days the model is fitted with
 * births at both ends as well, and the widest interval and the largest p count.
 *
 * @example compareSeasons(study, { species: "sea otter", window: { fromAgeD: 21, toAgeD: 84 } }).value.pairs[0]
 */
export function compareSeasons<W extends GainWindow = AgeWindow>(
  study: StudySeries,
  options: CompareSeasonsOptions<W>,
): Result<"compare-seasons", SeasonComparison<W>> {
  const gains = seasonGains(study, options);
  const level = options.level ?? 0.95;
  const asked = options.adjustFor ?? adjustments;
  const enough = enoughAnimals(gains);
  const few = gains.seasons.filter((s) => !enough.includes(s));
  const seasons = options.pair ? options.pair.filter((s) => enough.includes(s)) : enough;
  // All seasons with enough animals inform the spread of animals, also when one pair is asked about.
  const animals = gains.animals.filter((a) => enough.includes(a.season));
  const belief = arrivalBelief(
    (study.settings.priors ?? []).flatMap((prior) =>
      isSameSpecies(prior.species, options.species) ? (prior.arrival ?? []) : [],
    ),
  );
  const model = enough.length === 0 ? null : fitAdjustedModel(animals, enough, asked);
  const ends = birthRangeModels(study, options, enough, asked);
  const toCome = animalsToCome(study, gains);
  const pairs =
    model === null
      ? []
      : comparePairs(
          model,
          ends.models,
          animals,
          pairsOf(seasons),
          { ...options, belief },
          toCome.seasons,
        );
  const season = options.season ?? enough.at(-1);
  const about =
    model === null || season === undefined
      ? null
      : askedSeason(model, ends.models, animals, season, { ...options, belief }, toCome.seasons);
  const mixed =
    model === null || pairs.length === 0 || options.mixed === false || !isAgeWindow(gains.window)
      ? null
      : mixedDifferences(animals, model, pairsOf(seasons), level);
  const slopes = model === null ? null : slopeCheck(animals, enough, model);
  const between =
    model === null ? null : seasonSpread(model.adjustedMeans, adjustedErrors(model), level);
  const sentences: Notice[] = [
    ...comparisonSentences(gains, model, few, ends.n, pairs, slopes),
    ...(pairs.length > 0 && toCome.n > 0
      ? [notice("season-interim", "caution", { seasons: toCome.seasons, n: toCome.n })]
      : []),
    ...(model === null
      ? []
      : protocolStatements(
          model,
          between,
          pairs,
          options.protocolChanges ?? protocolSeasons(study, gains.species),
          level,
        )),
  ];

  return {
    kind: "compare-seasons",
    schema: 1,
    value: {
      species: gains.species,
      window: options.window,
      seasons: gains.seasons.map((s) => comparedSeason(gains, s, model, level)),
      animals: gains.animals,
      model:
        model === null
          ? null
          : {
              used: model.used,
              df: model.df,
              residualSd: measured(model.residualSd, "g/d", { n: model.n }),
              atArrivalMassG: model.at.arrivalMassG,
              atArrivalAgeD: model.at.arrivalAgeD as W extends AgeWindow ? number : number | null,
            },
      asked: about,
      pairs,
      mixed,
      slopes,
      betweenSeasons: between,
      sentences,
    },
    method: {
      name: "Adjusted difference in mean gain over a window, animals as units",
      options: {
        species: gains.species,
        window: gains.window,
        seasons: gains.seasons,
        season: season ?? null,
        pair: options.pair ?? null,
        adjustFor: asked,
        level,
        margin: options.margin ?? null,
        runs: options.runs ?? 1999,
        seed: options.seed ?? 1,
        multiplicity: pairs.length > 1 ? "Holm" : "none: one pair",
      },
      citations: [
        "Holm S (1979) Scand J Stat 6:65-70",
        "Freedman D, Lane D (1983) J Bus Econ Stat 1:292-298",
        "Schuirmann DJ (1987) J Pharmacokinet Biopharm 15:657-680",
        "Armstrong TB, Kolesár M (2018) Econometrica 86:655-683",
        "Haybittle JL (1971) Br J Radiol 44:793-797",
        "DerSimonian R, Laird N (1986) Control Clin Trials 7:177-188",
      ],
    },
    basis: {
      used: animals.length,
      leftOut: leftOutByReason(gains),
      of: "animals",
    },
    diagnostics: {
      residualDf: model?.df ?? null,
      seasonsTooSmall: few,
    },
    notices: gains.leftOut.map((l) => l.why),
  };
}

function comparePairs(
  model: AdjustedModel,
  ends: readonly AdjustedModel[],
  animals: readonly SeasonGain[],
  wanted: readonly (readonly [string, string])[],
  options: Omit<PairOptions, "interim">,
  running: readonly string[],
): SeasonPair[] {
  const raw = wanted.map(([from, to]) => {
    const interim = running.includes(from) || running.includes(to);
    return comparePair(model, ends, animals, from, to, { ...options, interim });
  });
  const adjusted = adjustPValues(
    raw.map((r) => r.p),
    "holm",
  );
  return raw.map((r, i) => r.decide(adjusted[i]!, wanted.length));
}

function pairsOf(seasons: readonly string[]): [string, string][] {
  return seasons.flatMap((a, i) => seasons.slice(i + 1).map((b): [string, string] => [a, b]));
}

function leftOutByReason(gains: SeasonGains) {
  const counts = new Map<string, number>();
  for (const l of gains.leftOut) counts.set(l.why.code, (counts.get(l.why.code) ?? 0) + 1);
  return [...counts].map(([reason, n]) => ({ reason, count: n }));
}
