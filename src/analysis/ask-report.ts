import type { LongWork } from "../core/long-work.js";
import { remember, rememberedOf } from "../core/remembered.js";
import type { Result } from "../core/result.js";
import type { DecisionRow, Study } from "../records/study.js";
import { agesOf } from "../seasons/ages-of.js";
import { type OutcomesOfCare, outcomesOfCare } from "../seasons/outcomes-of-care.js";
import { feedingDaySpan } from "../units/calendar.js";
import { animalOf, requireAnimal } from "./animal-of.js";
import { type AskDayOptions, askDay, type DayAnswer } from "./ask-day.js";
import { latestSeason, longestRecord } from "./asked-about.js";
import { type DietFed, dietsFed } from "./diets-fed.js";
import { type FedAtAge, feedingByAge } from "./feeding-by-age.js";
import { requireSeason } from "./require-season.js";
import type { SeasonResults } from "./season-answers.js";
import { seasonResults } from "./season-results.js";
import { type StaysInPlace, staysByPlace } from "./stays-by-place.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** Everything the husbandry report shows, worked out once. */
export interface ReportAnswer extends DayAnswer {
  readonly seasons: SeasonResults;
  /** What people decided about suspected slips. */
  readonly decisions: readonly DecisionRow[];
  /** The season asked about; null where all were. */
  readonly season: string | null;
  /** The animal whose curve is shown; null where none was named. */
  readonly example: AnimalAnalysis | null;
  /** The animal of each species that was weighed on most days: its curve is drawn. */
  readonly longest: readonly AnimalAnalysis[];
  readonly diets: readonly DietFed[];
  readonly feeding: readonly FedAtAge[];
  readonly places: readonly StaysInPlace[];
  readonly outcomes: OutcomesOfCare;
}

export interface AskReportOptions extends AskDayOptions, LongWork {
  /** Ages between which seasons are compared, days: "21-63". Default: the usual ages of each species. */
  readonly ages?: string | null;
  /** The species whose seasons are compared. Default: all. */
  readonly species?: string | null;
  /** The season that a page of one season is about; `"latest"` is that of the animal admitted last. Default: all. */
  readonly season?: string | null;
  /** Id or name of an animal whose curve is shown as an example; `"longest record"` is the one weighed on most days. Default: none. */
  readonly example?: string | null;
}

/**
 * The husbandry report: the day, every animal, and the seasons of every species.
 *
 * @example (await askReport(await readStudy("data-demo"))).value.seasons.compared.length // 2
 */
export async function askReport(
  study: Study,
  options: AskReportOptions = {},
): Promise<Result<"ask-report", ReportAnswer>> {
  const { ages = null, species = null, example = null, seed } = options;
  const window = ages === null ? undefined : agesOf(ages, "askReport, option ages");
  const season = seasonNamed(study, options.season ?? null, species);
  if (example !== null && example !== longest) requireAnimal(study, example);
  requireSeason(study, species, season);
  const day = await askDay(study, options);
  const { analysis } = day.value;
  const { animals, onDay } = analysis.value;
  const asked = { onDay, seed, window, species, season };
  const seasons = remember(rememberedOf(study), "seasons of a report", asked, () =>
    seasonResults(analysis.value, {
      ...(seed === undefined ? {} : { seed }),
      ...(options.signal === undefined ? {} : { signal: options.signal }),
      window,
      species,
      season,
    }),
  );
  return {
    ...day,
    kind: "ask-report",
    value: {
      ...day.value,
      seasons,
      decisions: study.decisions ?? [],
      season,
      example:
        example === null
          ? null
          : example === longest
            ? longestRecord(analysis.value, species)
            : animalOf(analysis.value, example),
      longest: [...new Set(animals.map((a) => a.species))]
        .sort()
        .map((each) => longestRecord(analysis.value, each)),
      diets: dietsFed(animals, study.tables.diets),
      feeding: feedingByAge(animals),
      places: staysByPlace(analysis.value, study.tables.housing),
      outcomes: outcomesOfCare(
        analysis.value.series,
        analysis.value.records.end ?? dayEndOf(analysis.value),
      ),
    },
  };
}

/** A study without any row that stands near another has the end of its day. */
function dayEndOf({ onDay, settings }: StudyAnalysis): number {
  return feedingDaySpan(onDay, settings.zone, settings.feedingDayStartHour).to;
}

const latest = "latest";
const longest = "longest record";

/** A season that is called "latest" goes before the word. */
function seasonNamed(study: Study, season: string | null, species: string | null): string | null {
  const isWord = season === latest && !study.tables.animals.some((a) => a.season === latest);
  return isWord ? latestSeason(study, species) : season;
}
