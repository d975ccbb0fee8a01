import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import { compareSeasons } from "../seasons/compare-seasons.js";
import { describeMilestones } from "../seasons/describe-milestones.js";
import type { AgeWindow } from "../seasons/gain-window.js";
import { protocolChange } from "../seasons/protocol-change.js";
import { seasonCurves } from "../seasons/season-curves.js";
import { type GroupBy, summariseSeasons } from "../seasons/summarise-seasons.js";
import { type StudyWindow, windowOfStudy } from "../seasons/window-of-study.js";
import { civilDayOf } from "../units/calendar.js";
import type { ChangeInSeason, SeasonResults } from "./season-answers.js";
import type { StudyAnalysis } from "./study-analysis.js";

/** Everything a report says about seasons; each animal is summed up once. */
export function seasonResults(
  analysis: StudyAnalysis,
  options: LongWork & {
    readonly window?: AgeWindow | undefined;
    /** The species whose seasons are compared. Default: all. */
    readonly species?: string | null;
    /** The season asked about, set against the earlier ones. Default: the latest of each species. */
    readonly season?: string | null;
  },
): SeasonResults {
  const { series, animals } = analysis;
  const { seed = 1, signal } = options;
  const summaries = summariseSeasons(series);
  const known = summaries.value.animals;
  const again = (by: readonly GroupBy[]) => summariseSeasons(series, { by, animals: known });
  const kinds = [...new Set(animals.map((a) => a.species))]
    .filter((each) => options.species == null || each === options.species)
    .sort();
  const seasonsOf = (species: string) => {
    const own = animals.filter((a) => a.species === species).map((a) => a.season);
    return [...new Set(own.filter((season) => season !== null))].sort();
  };
  return {
    summaries,
    byFormula: again(["species", "formula"]),
    bySex: again(["species", "sex"]),
    compared: kinds
      .filter((species) => seasonsOf(species).length > 1)
      .map((species) => {
        stopIfCancelled(signal);
        const chosen: StudyWindow =
          options.window === undefined
            ? windowOfStudy(series, species)
            : { window: options.window, from: "asked for", why: null };
        const { window } = chosen;
        const { season } = options;
        const named = seasonsOf(species).includes(season ?? "") ? { season: season! } : {};
        return {
          window: chosen,
          comparison: compareSeasons(series, { species, window, seed, ...named }),
          curves: seasonCurves(series, { species, window }),
        };
      }),
    changes: kinds.flatMap((species) =>
      series.events
        .filter(
          (e) => e.kind === "protocol change" && (e.scope === "study" || e.scope === "season"),
        )
        .flatMap((e): ChangeInSeason[] => {
          const change = protocolChange(series, { species, at: e.at });
          if (change.value.animals.length === 0) return [];
          return [{ species, day: civilDayOf(e.at, series.settings.zone), what: e.notes, change }];
        }),
    ),
    milestones: kinds.map((species) => {
      stopIfCancelled(signal);
      return {
        species,
        all: describeMilestones(series, { species, seed }),
        bySeason: seasonsOf(species).map((season) => ({
          season,
          // The samples behind an interval are drawn for all seasons together only.
          overview: describeMilestones(series, { species, seasons: [season], runs: 0 }),
        })),
      };
    }),
  };
}
