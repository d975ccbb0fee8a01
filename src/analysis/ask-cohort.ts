import { type LongWork, longWorkOf } from "../core/long-work.js";
import { remember, rememberedOf } from "../core/remembered.js";
import type { Result } from "../core/result.js";
import { backtestForecast, type ReplayedForecast } from "../growth/cohort/backtest-forecast.js";
import type { CohortFit } from "../growth/cohort/cohort-fit.js";
import { type CohortGains, cohortGains } from "../growth/cohort/cohort-gains.js";
import { type CohortMeanCurve, cohortMeanCurve } from "../growth/cohort/cohort-mean-curve.js";
import { fitCohort } from "../growth/cohort/fit-cohort.js";
import {
  type NewAnimalPrediction,
  predictForNewAnimal,
} from "../growth/cohort/predict-new-animal.js";
import type { CurveName } from "../growth/curve-catalogue.js";
import type { Study } from "../records/study.js";
import { windowOfStudy } from "../seasons/window-of-study.js";
import { analyse } from "./analyse.js";
import { animalOf, requireAnimal } from "./animal-of.js";
import { longestRecord, speciesAskedAbout } from "./asked-about.js";
import { agesAcross, curveHistories } from "./curve-histories.js";
import { requireAges, requireCurve } from "./require-asked.js";
import { requireSeason } from "./require-season.js";
import type { StudyAnalysis } from "./study-analysis.js";

/** What the page about a cohort's curves shows. */
export interface CohortAnswer {
  readonly analysis: Result<"analyse", StudyAnalysis>;
  readonly cohort: CohortFit;
  /** What follows from the cohort's curve; null where none could be fitted (its notices say why). */
  readonly fitted: {
    /** The curve at the middle of the parameters. */
    readonly typical: NewAnimalPrediction;
    /** The mean over animals, drawn, and over the two ages asked about. */
    readonly average: Result<"cohort-mean-curve", CohortMeanCurve>;
    readonly averageAtEnds: Result<"cohort-mean-curve", CohortMeanCurve>;
    readonly gains: Result<"cohort-gains", CohortGains>;
  } | null;
  readonly replay: Result<"backtest-forecast", ReplayedForecast>;
}

export interface AskCohortOptions extends LongWork {
  /** Default: the species of the animal admitted last. */
  readonly species?: string | null;
  readonly curve: CurveName;
  /** Ages over which gains are compared, days. Default: those over which seasons are. */
  readonly fromAgeD?: number | null;
  readonly toAgeD?: number | null;
  /** The animal that is left out and forecast from its first days. Default: the one weighed on most days. */
  readonly newAnimal?: string | null;
}

/**
 * A cohort's curves: one for all, one for each, the averaged curve, every
 * animal's gain, and a new animal forecast as its weighings arrive.
 *
 * @throws UsageError for an animal that is not there, naming the nearest.
 * @example (await askCohort(study, { species: "sea otter", curve: "gompertz", fromAgeD: 21, toAgeD: 84, newAnimal: "O23-01" })).value.cohort.value.animals.length
 */
export async function askCohort(
  study: Study,
  options: AskCohortOptions,
): Promise<Result<"ask-cohort", CohortAnswer>> {
  const { curve, newAnimal: named = null } = options;
  if (named !== null) requireAnimal(study, named);
  requireSeason(study, options.species ?? null, null);
  requireCurve(curve);
  requireAges(options.fromAgeD ?? null, options.toAgeD ?? null);
  const species = options.species ?? speciesAskedAbout(study);
  const analysis = await analyse(study, { ...longWorkOf(options), curves: [] });
  const { animalId: newAnimal } =
    named === null ? longestRecord(analysis.value, species) : animalOf(analysis.value, named);
  const { window } = windowOfStudy(analysis.value.series, species);
  const { fromAgeD: from, toAgeD: to } = {
    fromAgeD: options.fromAgeD ?? window.fromAgeD,
    toAgeD: options.toAgeD ?? window.toAgeD,
  };
  const asked = { species, curve, from, to, newAnimal };
  const worked = remember(rememberedOf(study), "cohort", asked, () => {
    const histories = curveHistories(analysis.value, { species });
    const cohort = fitCohort(histories, { curve });
    const after = { curve, after: [0, 1, 3, 7, 14], aheadD: 7 };
    return {
      cohort,
      fitted: cohort.value.population === null ? null : whatFollows(cohort, from, to),
      replay: backtestForecast(histories, newAnimal, after),
    };
  });
  const { cohort } = worked;
  return {
    kind: "ask-cohort",
    schema: 1,
    value: { analysis, ...worked },
    method: cohort.method,
    basis: cohort.basis,
    diagnostics: {},
    notices: cohort.notices,
  };
}

function whatFollows(cohort: CohortFit, from: number, to: number): CohortAnswer["fitted"] {
  const at = agesAcross(cohort);
  const nothing = { ages: [], masses: [] };
  return {
    typical: predictForNewAnimal(cohort, nothing, { at, of: "population" }),
    average: cohortMeanCurve(cohort, { at, from, to }),
    averageAtEnds: cohortMeanCurve(cohort, { at: [from, to], from, to }),
    gains: cohortGains(cohort, { from, to }),
  };
}
