import type { AnimalAnalysis, StudyAnalysis } from "../analysis/study-analysis.js";
import { localText } from "../units/format.js";

/** Tidy rows by what they are about: one value a cell, units in the names, nothing nested. */
export interface TidyRows {
  /** One row an animal, on the day looked at. */
  readonly gains: {
    readonly animalId: string;
    readonly name: string | null;
    readonly species: string;
    readonly season: string | null;
    readonly sex: string;
    readonly inCare: boolean;
    readonly ageD: number | null;
    readonly massG: number | null;
    readonly gainGPerD: number | null;
    readonly gainLowGPerD: number | null;
    readonly gainHighGPerD: number | null;
    readonly gainPctPerD: number | null;
    readonly eatenGPerD: number | null;
    readonly eatenKcalPerD: number | null;
  };
  /** One row a day with a weighing that stands for it. */
  readonly masses: {
    readonly animalId: string;
    readonly species: string;
    readonly season: string | null;
    readonly feedingDay: string;
    readonly at: string;
    readonly ageD: number | null;
    readonly sinceAdmissionD: number | null;
    readonly massG: number;
    readonly errorG: number;
  };
  /** One row a feed of one animal; two bounds where a refusal is not known. */
  readonly feeds: {
    readonly animalId: string;
    readonly species: string;
    readonly season: string | null;
    readonly feedingDay: string;
    readonly at: string;
    readonly dietId: string | null;
    readonly offeredG: number;
    readonly eatenLowG: number;
    readonly eatenHighG: number;
  };
}

/** Anything that carries an analysis: the answer to a question, or the analysis itself. */
export type Analysed =
  | { readonly value: StudyAnalysis }
  | { readonly value: { readonly analysis: { readonly value: StudyAnalysis } } };

/**
 * Tidy typed rows of a study, for one's own questions: to a data frame, to a
 * statistics library, to a file. Instants are local text; what is not known is null.
 *
 * @example rows("gains", await askDay(study))[0]?.massG // 6220
 */
export function rows<What extends keyof TidyRows>(what: What, answer: Analysed): TidyRows[What][] {
  const analysis = "animals" in answer.value ? answer.value : answer.value.analysis.value;
  const make = makers[what] as (a: AnimalAnalysis, zone: string) => TidyRows[What][];
  return analysis.animals.flatMap((a) => make(a, analysis.settings.zone));
}

const makers: {
  readonly [What in keyof TidyRows]: (a: AnimalAnalysis, zone: string) => TidyRows[What][];
} = {
  gains: (a) => {
    const { gain, relative } = a.gain.recent;
    const { animalId, name, species, season, inCare, last, recentIntake } = a;
    return [
      {
        animalId,
        name,
        species,
        season,
        sex: a.series.animal.sex,
        inCare,
        ageD: last?.ageD ?? null,
        massG: last?.massG ?? null,
        gainGPerD: gain.value,
        gainLowGPerD: gain.interval?.lower ?? null,
        gainHighGPerD: gain.interval?.upper ?? null,
        gainPctPerD: relative.value,
        eatenGPerD: recentIntake.eatenG.value,
        eatenKcalPerD: recentIntake.kcal.value,
      },
    ];
  },
  masses: ({ animalId, species, season, series }, zone) =>
    series.daily.map((d) => ({
      animalId,
      species,
      season,
      feedingDay: d.feedingDay,
      at: localText(d.at, zone),
      ageD: d.ageD,
      sinceAdmissionD: d.sinceAdmissionD,
      massG: d.massG,
      errorG: d.errorG,
    })),
  feeds: ({ animalId, species, season, series }, zone) =>
    series.feeds.map((f) => ({
      animalId,
      species,
      season,
      feedingDay: f.feedingDay,
      at: localText(f.at, zone),
      dietId: f.dietId,
      offeredG: f.offeredG,
      eatenLowG: f.eatenLowG,
      eatenHighG: f.eatenHighG,
    })),
};
