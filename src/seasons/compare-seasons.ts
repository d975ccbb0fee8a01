import type { LongWork } from "../core/long-work.js";
import { type Measured, measured, notDefined } from "../core/measured.js";
import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import type { StudySeries } from "../series/animal-series.js";
import { studentTQuantile } from "../stats/distributions/student-t.js";
import { adjustPValues } from "../stats/hypothesis-tests/adjust-p-values.js";
import {
  type AdjustedModel,
  type Adjustment,
  adjustments,
  fitAdjustedModel,
} from "./adjusted-model.js";
import { comparePair, type SeasonPair } from "./compare-pair.js";
import { type MixedSeasons, mixedDifferences } from "./mixed-difference.js";
import { protocolSeasons } from "./protocol-seasons.js";
import { type ProtocolChangeSeason, protocolStatements } from "./protocol-statements.js";
import {
  type AgeWindow,
  type GainWindow,
  isAgeWindow,
  type SeasonGain,
  type SeasonGainOptions,
  type SeasonGains,
  seasonGains,
} from "./season-gain.js";
import { type SeasonSpread, seasonSpread } from "./season-spread.js";
import { type SlopeCheck, slopeCheck } from "./slope-check.js";
import { type Spread, spreadOf } from "./spread.js";

export interface CompareSeasonsOptions<W extends GainWindow = AgeWindow>
  extends Omit<SeasonGainOptions, "birth" | "window">,
    LongWork {
  readonly window: W;
  /** The one pair asked about beforehand; without it every pair is compared and p is adjusted (Holm). */
  readonly pair?: readonly [string, string];
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

export interface ComparedSeason {
  readonly season: string;
  readonly n: number;
  readonly gain: Spread;
  readonly arrivalMass: Spread;
  readonly arrivalAge: Spread;
  /** Mean gain at the common arrival, g/d. */
  readonly adjusted: Measured;
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
  readonly pairs: readonly SeasonPair[];
  /** The same differences from all daily masses by a mixed model; a second view, not the decision. */
  readonly mixed: MixedSeasons | null;
  /** Does the effect of arrival mass differ by season? Shown, never used. */
  readonly slopes: SlopeCheck | null;
  readonly betweenSeasons: SeasonSpread | null;
  /** The whole answer as sentences, in reading order. */
  readonly sentences: readonly Notice[];
}

/** Fewest animals of a season with a complete window. */
export const LEAST_ANIMALS = 3;

/**
 * Did the seasons' animals grow differently? The adjusted difference in mean
 * gain over a stated age window at a common arrival, by a linear model on
 * animals (each animal's regression gain counts once), with what checks it and
 * what limits it.
 *
 * The estimand, who is used and what is adjusted for are settled before gains
 * are looked at. Decision: p below 1 - level, Holm-adjusted where more than one
 * pair is compared. Where birth ranges exceed 3 days the model is fitted with
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
  const enough = gains.seasons.filter((s) => count(gains, s) >= LEAST_ANIMALS);
  const few = gains.seasons.filter((s) => !enough.includes(s));
  const seasons = options.pair ? options.pair.filter((s) => enough.includes(s)) : enough;
  // All seasons with enough animals inform the spread of animals, also when one pair is asked about.
  const animals = gains.animals.filter((a) => enough.includes(a.season));
  const model = enough.length === 0 ? null : fitAdjustedModel(animals, enough, asked);
  const ends = rangeModels(study, options, enough, asked);
  const pairs =
    model === null ? [] : comparePairs(model, ends.models, animals, pairsOf(seasons), options);
  const mixed =
    model === null || pairs.length === 0 || options.mixed === false || !isAgeWindow(gains.window)
      ? null
      : mixedDifferences(animals, model, pairsOf(seasons), level);
  const slopes = model === null ? null : slopeCheck(animals, enough, model);
  const between =
    model === null ? null : seasonSpread(model.adjustedMeans, adjustedSes(model), level);
  const died = gains.leftOut.filter((l) => l.why.code === "season-died-before-end").length;

  const sentences: Notice[] = [
    ...few.map((season) =>
      notice("season-too-few", "caution", { season, n: count(gains, season) }),
    ),
    ...(model === null ? [] : [estimand(gains, model)]),
    ...(model?.dropped ?? [])
      .filter((d) => d.why !== "not asked for")
      .map((d) =>
        notice("season-adjustment-dropped", "info", { adjustment: d.adjustment, why: d.why }),
      ),
    ...(isAgeWindow(gains.window) ? [] : [notice("season-mass-window", "caution")]),
    ...(ends.n > 0 ? [notice("season-birth-range", "caution", { n: ends.n })] : []),
    ...pairSentences(pairs),
    ...(slopes !== null && slopes.p < 0.05
      ? [notice("season-slopes-differ", "caution", { p: slopes.p })]
      : []),
    ...(died > 0 ? [notice("season-survivors-only", "caution", { died })] : []),
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
      seasons: gains.seasons.map((s) => describe(gains, s, model, level)),
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
  options: CompareSeasonsOptions<GainWindow>,
): SeasonPair[] {
  const raw = wanted.map(([from, to]) => comparePair(model, ends, animals, from, to, options));
  const adjusted = adjustPValues(
    raw.map((r) => r.p),
    "holm",
  );
  return raw.map((r, i) => r.decide(adjusted[i]!, wanted.length));
}

/** With many pairs, what could have been found is said once, for the largest difference. */
function pairSentences(pairs: readonly SeasonPair[]): Notice[] {
  const size = (p: SeasonPair) => Math.abs(p.difference.value ?? 0);
  const largest = pairs.reduce<SeasonPair | null>(
    (best, p) => (best === null || size(p) > size(best) ? p : best),
    null,
  );
  const power = ["season-detectable", "season-animals-needed"];
  return pairs.flatMap((p) => p.sentences.filter((s) => p === largest || !power.includes(s.code)));
}

function pairsOf(seasons: readonly string[]): [string, string][] {
  return seasons.flatMap((a, i) => seasons.slice(i + 1).map((b): [string, string] => [a, b]));
}

/** The model with births at both ends of their ranges, where any range exceeds 3 days. */
function rangeModels(
  study: StudySeries,
  options: CompareSeasonsOptions<GainWindow>,
  seasons: readonly string[],
  asked: readonly Adjustment[],
): { readonly n: number; readonly models: readonly AdjustedModel[] } {
  if (!isAgeWindow(options.window)) return { n: 0, models: [] };
  const wide = study.animals.filter(
    (a) =>
      a.animal.species === options.species &&
      a.animal.season !== null &&
      seasons.includes(a.animal.season) &&
      a.age.usableForWeightForAge &&
      (a.age.rangeDays ?? 0) > 3,
  ).length;
  if (wide === 0) return { n: 0, models: [] };
  const models = (["earliest", "latest"] as const).flatMap((birth) => {
    const at = seasonGains(study, { ...options, birth });
    const usable = at.animals.filter((a) => seasons.includes(a.season));
    return fitAdjustedModel(usable, seasons, asked) ?? [];
  });
  return { n: wide, models };
}

function describe(
  gains: SeasonGains,
  season: string,
  model: AdjustedModel | null,
  level: number,
): ComparedSeason {
  const members = gains.animals.filter((a) => a.season === season);
  const i = model?.seasons.indexOf(season) ?? -1;
  const base = {
    season,
    n: members.length,
    gain: spreadOf(
      members.map((a) => a.gain),
      "g/d",
    ),
    arrivalMass: spreadOf(
      members.map((a) => a.arrivalMassG),
      "g",
    ),
    arrivalAge: spreadOf(
      members.map((a) => a.arrivalAgeD),
      "d",
    ),
  };
  if (model === null || i < 0)
    return {
      ...base,
      adjusted: notDefined(
        "g/d",
        notice("season-too-few", "caution", { season, n: members.length }),
      ),
    };
  const value = model.adjustedMeans[i]!;
  const se = adjustedSes(model)[i]!;
  const t = studentTQuantile(1 - (1 - level) / 2, model.df);
  return {
    ...base,
    adjusted: measured(value, "g/d", {
      se,
      n: members.length,
      interval: { lower: value - t * se, upper: value + t * se, level },
    }),
  };
}

function adjustedSes(model: AdjustedModel): number[] {
  return model.seasons.map((_, i) => model.residualSd * Math.sqrt(model.unscaled[i]![i]!));
}

function estimand(gains: SeasonGains, model: AdjustedModel): Notice {
  return model.used.length === 0
    ? notice("season-unadjusted", "info", { species: gains.species })
    : notice("season-estimand", "info", {
        species: gains.species,
        ...gains.window,
        mass: model.at.arrivalMassG,
        adjusted: model.used,
      });
}

function count(gains: SeasonGains, season: string): number {
  return gains.animals.filter((a) => a.season === season).length;
}

function leftOutByReason(gains: SeasonGains) {
  const counts = new Map<string, number>();
  for (const l of gains.leftOut) counts.set(l.why.code, (counts.get(l.why.code) ?? 0) + 1);
  return [...counts].map(([reason, n]) => ({ reason, count: n }));
}
