import type { LongWork } from "../core/long-work.js";
import type { Result } from "../core/result.js";
import type { Study } from "../records/study.js";
import { compareSeasons, type SeasonComparison } from "../seasons/compare-seasons.js";
import { describeMilestones, type MilestoneOverview } from "../seasons/describe-milestones.js";
import type { AgeWindow } from "../seasons/gain-window.js";
import { type ProtocolChange, protocolChange } from "../seasons/protocol-change.js";
import { type SeasonCurves, seasonCurves } from "../seasons/season-curves.js";
import { type SeasonSummaries, summariseSeasons } from "../seasons/summarise-seasons.js";
import { usualWindow } from "../seasons/usual-window.js";
import { analyse } from "./analyse.js";
import type { StudyAnalysis } from "./study-analysis.js";

/** What the page about seasons shows, worked out once. */
export interface SeasonsAnswer {
  readonly analysis: Result<"analyse", StudyAnalysis>;
  readonly species: string;
  /** The later season of the pair asked about; null where every pair was compared. */
  readonly about: string | null;
  /** The animals summed up by season, and the same animals by formula and by sex. */
  readonly summaries: Result<"summarise-seasons", SeasonSummaries>;
  readonly byFormula: Result<"summarise-seasons", SeasonSummaries>;
  readonly bySex: Result<"summarise-seasons", SeasonSummaries>;
  readonly comparison: Result<"compare-seasons", SeasonComparison>;
  readonly curves: Result<"season-curves", SeasonCurves>;
  /** Null where no day of a change was named. */
  readonly change: Result<"protocol-change", ProtocolChange> | null;
  readonly milestones: Result<"describe-milestones", MilestoneOverview>;
}

export interface AskSeasonsOptions extends LongWork {
  readonly species: string;
  /** Ages between which gain is compared, days. Default: the usual ages of the species. */
  readonly window?: AgeWindow;
  /** The one pair of seasons asked about beforehand, the earlier one first. */
  readonly pair?: readonly [string, string];
  /** A difference smaller than this does not matter, g/d; null asks for no test of likeness. */
  readonly margin?: number | null;
  /** A day inside a season on which something was changed. */
  readonly changeDay?: string | null;
}

/**
 * The seasons: did animals of one grow differently from those of others, at a
 * common arrival mass and age, and how sure is that.
 *
 * @example (await askSeasons(study, { species: "sea otter" })).value.comparison.value.seasons.length // 5
 */
export async function askSeasons(
  study: Study,
  options: AskSeasonsOptions,
): Promise<Result<"ask-seasons", SeasonsAnswer>> {
  const { species, pair, margin = null, changeDay = null, seed = 1 } = options;
  const window = options.window ?? usualWindow(species, study.settings.speciesOverrides);
  // Each animal's own curves are not compared here, and take most of the time.
  const analysis = await analyse(study, { ...longWork(options), curves: [] });
  const { series } = analysis.value;
  const summaries = summariseSeasons(series);
  const { animals } = summaries.value;
  const comparison = compareSeasons(series, {
    species,
    window,
    ...(pair === undefined ? {} : { pair }),
    ...(margin === null ? {} : { margin }),
    seed,
  });
  return {
    kind: "ask-seasons",
    schema: 1,
    value: {
      analysis,
      species,
      about: pair?.[1] ?? null,
      summaries,
      byFormula: summariseSeasons(series, { by: ["species", "formula"], animals }),
      bySex: summariseSeasons(series, { by: ["species", "sex"], animals }),
      comparison,
      curves: seasonCurves(series, { species, window }),
      change: changeDay === null ? null : protocolChange(series, { species, at: changeDay }),
      milestones: describeMilestones(series, { species, seed }),
    },
    method: comparison.method,
    basis: comparison.basis,
    diagnostics: {},
    notices: comparison.notices,
  };
}

const longWork = ({ signal, onProgress, seed }: LongWork): LongWork => ({
  ...(signal === undefined ? {} : { signal }),
  ...(onProgress === undefined ? {} : { onProgress }),
  ...(seed === undefined ? {} : { seed }),
});
