import { type LongWork, longWorkOf } from "../core/long-work.js";
import { remember, rememberedOf } from "../core/remembered.js";
import type { Result } from "../core/result.js";
import type { Study } from "../records/study.js";
import { agesOf } from "../seasons/ages-of.js";
import { compareSeasons, type SeasonComparison } from "../seasons/compare-seasons.js";
import { describeMilestones, type MilestoneOverview } from "../seasons/describe-milestones.js";
import { milestonesIn } from "../seasons/milestone-times.js";
import { type ProtocolChange, protocolChange } from "../seasons/protocol-change.js";
import { type SeasonCurves, seasonCurves } from "../seasons/season-curves.js";
import { type SeasonSummaries, summariseSeasons } from "../seasons/summarise-seasons.js";
import { type StudyWindow, windowOfStudy } from "../seasons/window-of-study.js";
import { analyse } from "./analyse.js";
import { speciesAskedAbout } from "./asked-about.js";
import { requireDay, requireMilestone, requireWithin } from "./require-asked.js";
import { requireSeason } from "./require-season.js";
import type { StudyAnalysis } from "./study-analysis.js";

/** Something that gives its rows as a study: an archive of many. */
export interface StudySource {
  study(chosen?: { readonly species?: readonly string[] }): Promise<Study>;
}

/** What the page about seasons shows, worked out once. */
export interface SeasonsAnswer {
  readonly analysis: Result<"analyse", StudyAnalysis>;
  readonly species: string;
  /** The later season of the pair asked about; null where every pair was compared. */
  readonly about: string | null;
  /** The ages compared, and whether they are the usual ones. */
  readonly window: StudyWindow;
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
  /** Default: the species of the animal admitted last. */
  readonly species?: string | null;
  /** Ages between which gain is compared, days: "21-63". Default: the usual ages, or those that most animals share. */
  readonly ages?: string | null;
  /** The season asked about, set against the earlier ones. Default: the latest with animals enough. */
  readonly season?: string | null;
  /** The one pair of seasons asked about beforehand, the earlier one first. */
  readonly pair?: readonly [string, string];
  /** A difference smaller than this does not matter, g/d; null asks for no test of likeness. */
  readonly margin?: number | null;
  /** A day inside a season on which something was changed. */
  readonly changeDay?: string | null;
  /** A milestone that will be looked at by name: a slip in it is refused. */
  readonly milestone?: string | null;
}

/**
 * The seasons: did animals of one grow differently from those of others, at a
 * common arrival mass and age, and how sure is that. Of an archive it is asked of the
 * animals of the species in all its houses.
 *
 * @example (await askSeasons(study, { species: "sea otter" })).value.comparison.value.seasons.length // 5
 */
export async function askSeasons(
  from: Study | StudySource,
  options: AskSeasonsOptions = {},
): Promise<Result<"ask-seasons", SeasonsAnswer>> {
  const study = "tables" in from ? from : await from.study(ofSpecies(options));
  const { pair, margin = null, changeDay = null, seed = 1 } = options;
  const season = options.season ?? null;
  requireSeason(study, options.species ?? null, season);
  requireDay(changeDay, "the day of the change");
  const gains = { needed: "a gain in g/d from 0 on, as margin", least: 0, most: 1e6 };
  requireWithin(margin, "the margin asked about", gains);
  const species = options.species ?? speciesAskedAbout(study);
  const given = options.ages == null ? null : agesOf(options.ages, "askSeasons, option ages");
  // Each animal's own curves are not compared here, and take most of the time.
  const analysis = await analyse(study, { ...longWorkOf(options), curves: [] });
  const { series } = analysis.value;
  requireMilestone(options.milestone, milestonesIn(series, species));
  const chosen: StudyWindow =
    given === null
      ? windowOfStudy(series, species)
      : { window: given, from: "asked for", why: null };
  const { window } = chosen;
  const asked = { species, window, season, pair, margin, changeDay, seed };
  const worked = remember(rememberedOf(study), "seasons", asked, () => {
    const summaries = summariseSeasons(series);
    const { animals } = summaries.value;
    return {
      summaries,
      byFormula: summariseSeasons(series, { by: ["species", "formula"], animals }),
      bySex: summariseSeasons(series, { by: ["species", "sex"], animals }),
      comparison: compareSeasons(series, {
        species,
        window,
        ...(season === null ? {} : { season }),
        ...(pair === undefined ? {} : { pair }),
        ...(margin === null ? {} : { margin }),
        seed,
      }),
      curves: seasonCurves(series, { species, window }),
      change: changeDay === null ? null : protocolChange(series, { species, at: changeDay }),
      milestones: describeMilestones(series, { species, seed }),
    };
  });
  const { comparison } = worked;
  return {
    kind: "ask-seasons",
    schema: 1,
    value: {
      analysis,
      species,
      about: season ?? pair?.[1] ?? null,
      window: chosen,
      ...worked,
    },
    method: comparison.method,
    basis: comparison.basis,
    diagnostics: {},
    notices: [...(chosen.why === null ? [] : [chosen.why]), ...comparison.notices],
  };
}

const ofSpecies = ({ species }: AskSeasonsOptions) =>
  species == null ? {} : { species: [species] };
