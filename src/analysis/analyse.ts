import { type LongWork, longWorkOf } from "../core/long-work.js";
import { notice } from "../core/notice.js";
import { remember, rememberedOf, rememberSteps } from "../core/remembered.js";
import type { Result } from "../core/result.js";
import { runStepsInTurns, type Steps } from "../core/steps.js";
import { UsageError } from "../core/usage-error.js";
import { judgedSignal } from "../flags/animal-day/judged-signals.js";
import { type FlagLimits, findFlagsSteps, type KeptWatch } from "../flags/find-flags.js";
import type { CurveName } from "../growth/curve-catalogue.js";
import type { EnergyChoice } from "../rates/energy-of.js";
import { intakeByDay } from "../rates/intake-by-day.js";
import { type SerialStretch, serialStretches } from "../rates/serial-evidence.js";
import { type DefaultDay, defaultDay } from "../records/default-day.js";
import type { HousingRow, Study } from "../records/study.js";
import { contemporaries } from "../reference/contemporaries.js";
import { gainZ, weightForAgeZ } from "../reference/z-scores.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../series/animal-series.js";
import { buildSeries } from "../series/build-series.js";
import { analyseAnimal } from "./analyse-animal.js";
import { dayBeforeRecords } from "./day-in-words.js";
import { explainSlowGain } from "./explain-slow-gain.js";
import { phaseOn } from "./phase-on.js";
import { basisOf, recordsOf, whatIsMissing } from "./records-behind.js";
import { requireDay } from "./require-asked.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";
import { studyUpTo } from "./study-up-to.js";

export interface AnalyseOptions extends LongWork {
  /** Feeding day to look at; nothing later is read. Default: see `defaultDay`. */
  readonly onDay?: CivilDate | null;
  /** The clock, epoch ms: rows later than it never say which day it is. Default: not asked. */
  readonly now?: number;
  /** Window of the recent gain, days. Default 7. */
  readonly gainDays?: number;
  /** Window of the feed conversion, days. Default 14. */
  readonly conversionDays?: number;
  /** Curves fitted to each animal. Default exponential, logistic, gompertz. */
  readonly curves?: readonly CurveName[];
  /** How energy follows from a composition. Default "stated, else general". */
  readonly energy?: EnergyChoice;
  /** Compare with animals of earlier seasons at the same age too. Default true. */
  readonly earlierSeasons?: boolean;
  readonly flagLimits?: Partial<FlagLimits>;
  /** What a long-lived process keeps between two looks: faster, never another answer. */
  readonly kept?: KeptWatch;
}

/**
 * Runs the whole chain on one study: the histories, gain, intake, conversion,
 * curves, and the flags of the day, for every animal.
 *
 * Phases: (1) cut the records at the end of the day; (2) build the histories;
 * (3) find the flags, animals compared with each other; (4) each animal by
 * itself, with progress; (5) say what could not be computed.
 *
 * Cancels by `signal`. Bad rows were set aside when reading and never stop it.
 *
 * @throws UsageError for a day that is no `YYYY-MM-DD`, or before every record.
 * @example (await analyse(await readStudy("data-demo"))).value.animals.length // 35
 */
export async function analyse(
  study: Study,
  options: AnalyseOptions = {},
): Promise<Result<"analyse", StudyAnalysis>> {
  return runStepsInTurns(analyseSteps(study, options), longWorkOf(options));
}

function* analyseSteps(
  study: Study,
  options: AnalyseOptions,
): Steps<Result<"analyse", StudyAnalysis>> {
  const end = defaultDay(study, options.now === undefined ? {} : { now: options.now });
  const resolved = resolve(options, end);
  const { onDay, gainDays } = resolved;
  const cut = studyUpTo(study, onDay);
  refuseWithoutWeighings(study, cut, onDay);
  const total = cut.tables.animals.length;
  yield { done: 0, total, doing: "histories and flags of all animals" };
  const series = buildSeries(cut);
  const intakes = intakesOf(series, resolved.energy);
  const flags = yield* flagsOf(study, cut, series, intakes, resolved, options.kept);
  const alone = yield* eachAlone(study, series, intakes, flags, resolved);
  const missing = whatIsMissing(cut);
  const value: StudyAnalysis = {
    title: study.settings.title,
    settings: study.settings,
    onDay,
    gainDays,
    diets: study.tables.diets.map(({ dietId, name }) => ({ dietId, name })),
    records: recordsOf(study, cut, series, { onDay, end, now: options.now, missing }),
    series,
    animals: withZ(series, alone, resolved),
    flags,
  };
  return {
    kind: "analyse",
    schema: 1,
    value: { ...value, animals: withSlowGains(value, cut.tables.housing) },
    method: {
      name: "The chain of rooms, one animal after the other",
      options: resolved,
      citations: [],
    },
    basis: basisOf(study, cut),
    diagnostics: {},
    notices: [
      ...missing,
      ...(resolved.earlierSeasons ? [notice("analysis-earlier-seasons", "info")] : []),
      ...flags.notices,
    ],
  };
}

/** What was asked for, with what holds where nothing was said. */
function resolve(options: AnalyseOptions, end: DefaultDay) {
  const onDay = options.onDay ?? end.day ?? "1970-01-01";
  requireDay(onDay, "the day asked about");
  return {
    onDay,
    gainDays: options.gainDays ?? 7,
    conversionDays: options.conversionDays ?? 14,
    curves: options.curves ?? (["exponential", "logistic", "gompertz"] as const),
    energy: options.energy ?? "stated, else general",
    earlierSeasons: options.earlierSeasons ?? true,
    flagLimits: options.flagLimits ?? {},
  };
}

type Resolved = ReturnType<typeof resolve>;
type Intakes = ReturnType<typeof intakesOf>;
type FoundFlagsOfDay = StudyAnalysis["flags"];

function refuseWithoutWeighings(study: Study, cut: Study, onDay: CivilDate): void {
  if (study.tables.weighings.length === 0) {
    throw new UsageError({
      needed: "at least one weighing that could be read",
      came: "none: the table is empty, missing, or every row of it was set aside",
      where: "analyse",
      todo: "Run `gramline check` on the folder: it says for each row why.",
    });
  }
  if (cut.tables.weighings.length === 0) {
    throw new UsageError({
      needed: "a day with at least one weighing before its end",
      came: `no weighing stands before the end of ${onDay}`,
      where: "the day asked about",
      todo: `${dayBeforeRecords(study, onDay)} Left out, the last day of the records is taken.`,
    });
  }
}

function intakesOf({ animals, settings }: StudySeries, energy: EnergyChoice) {
  return new Map(
    animals.map((each) => [each.animal.animalId, intakeByDay(each, { settings, energy })]),
  );
}

/** The flags of the day, animals compared with each other; remembered with the study. */
function flagsOf(
  study: Study,
  cut: Study,
  series: StudySeries,
  intakes: Intakes,
  { onDay, earlierSeasons, flagLimits, energy }: Resolved,
  kept: KeptWatch | undefined,
): Steps<FoundFlagsOfDay> {
  const about = { onDay, earlierSeasons, flagLimits, energy };
  return rememberSteps(rememberedOf(study), "flags", about, () =>
    findFlagsSteps(series, {
      onDay,
      earlierSeasons,
      intakeOf: (animalId) => intakes.get(animalId)?.value,
      limits: flagLimits,
      ...(kept === undefined ? {} : { kept }),
      acknowledgements: cut.acknowledgements ?? [],
    }),
  );
}

/** Each animal by itself, with progress; remembered with the study. */
function* eachAlone(
  study: Study,
  series: StudySeries,
  intakes: Intakes,
  flags: FoundFlagsOfDay,
  resolved: Resolved,
): Steps<AnimalAnalysis[]> {
  const byAnimal = new Map(flags.value.animals.map((day) => [day.animalId, day]));
  const stretches = stretchesBySpecies(series.animals);
  const { onDay, gainDays, conversionDays, curves, energy } = resolved;
  const alone: AnimalAnalysis[] = [];
  for (const [i, each] of series.animals.entries()) {
    const { animalId, species } = each.animal;
    const known = {
      series: each,
      intake: intakes.get(animalId)!,
      day: byAnimal.get(animalId) ?? null,
    };
    const asked = { animalId, onDay, gainDays, conversionDays, curves, energy };
    alone.push({
      // Its history is built anew: reading that back takes as long.
      ...remember(rememberedOf(study), "animal", asked, () => ({
        ...analyseAnimal(each, series.settings, known.intake, known.day, {
          ...resolved,
          stretches: stretches.get(species)!,
        }),
        series: null,
        intake: null,
        day: null,
      })),
      ...known,
    });
    const doing = `gain, what was eaten and kept, conversion and curves of ${animalId}`;
    yield { done: i + 1, total: series.animals.length, doing };
  }
  return alone;
}

/** Adds each animal's z against its contemporaries; needs the phases of all animals. */
function withZ(
  series: StudySeries,
  animals: readonly AnimalAnalysis[],
  options: {
    readonly onDay: CivilDate;
    readonly gainDays: number;
    readonly earlierSeasons: boolean;
  },
): AnimalAnalysis[] {
  const asked = { ...options, phaseOn: phaseOn(series.settings, animals) };
  return animals.map((animal) => {
    if (!animal.inCare) return animal;
    const group = contemporaries(series, animal.animalId, asked);
    return {
      ...animal,
      z: { level: weightForAgeZ(group, animal.series.age), gain: gainZ(group) },
    };
  });
}

const aboutGain = ["slowed gain", "gain"] as const;

/** Explains the gain of each animal whose weighings raised it: one window and one number for all pages. */
function withSlowGains(
  analysis: StudyAnalysis,
  housing: readonly HousingRow[],
): readonly AnimalAnalysis[] {
  const slows = (a: AnimalAnalysis) =>
    a.inCare && aboutGain.some((kind) => judgedSignal(a.day, kind)?.raised === true);
  return analysis.animals.map((animal) =>
    slows(animal)
      ? { ...animal, slow: explainSlowGain(analysis, animal, housing).explanations.value }
      : animal,
  );
}

/** What the weighings of each species say about how much neighbouring days err alike. */
function stretchesBySpecies(animals: readonly AnimalSeries[]) {
  const out = new Map<string, SerialStretch[]>();
  for (const { animal, daily } of animals) {
    const known = out.get(animal.species) ?? [];
    known.push(...serialStretches(daily));
    out.set(animal.species, known);
  }
  return out;
}
