import { type LongWork, longWorkOf, stopIfCancelled } from "../core/long-work.js";
import { type Notice, notice } from "../core/notice.js";
import { remember, rememberedOf, rememberSteps } from "../core/remembered.js";
import type { Result } from "../core/result.js";
import { runStepsInTurns } from "../core/steps.js";
import { UsageError } from "../core/usage-error.js";
import { judgedSignal } from "../flags/animal-day/judged-signals.js";
import { type FlagLimits, findFlagsSteps, type KeptWatch } from "../flags/find-flags.js";
import { levelNotices } from "../flags/levels/animal-levels.js";
import type { CurveName } from "../growth/curve-catalogue.js";
import type { EnergyChoice } from "../rates/energy-of.js";
import { intakeByDay } from "../rates/intake-by-day.js";
import { type SerialStretch, serialStretches } from "../rates/serial-evidence.js";
import { type DefaultDay, defaultDay, NEAR_MS } from "../records/default-day.js";
import type { HousingRow, Study } from "../records/study.js";
import { contemporaries } from "../reference/contemporaries.js";
import { gainZ, weightForAgeZ } from "../reference/z-scores.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../series/animal-series.js";
import { buildSeries } from "../series/build-series.js";
import { daysBetween, isCivilDate } from "../units/calendar.js";
import { analyseAnimal } from "./analyse-animal.js";
import { dayBeforeRecords } from "./day-in-words.js";
import { explainSlowGain } from "./explain-slow-gain.js";
import { phaseOn } from "./phase-on.js";
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
  const end = defaultDay(study, options.now === undefined ? {} : { now: options.now });
  const onDay = options.onDay ?? end.day ?? "1970-01-01";
  checkDay(onDay);
  const resolved = {
    onDay,
    gainDays: options.gainDays ?? 7,
    conversionDays: options.conversionDays ?? 14,
    curves: options.curves ?? (["exponential", "logistic", "gompertz"] as const),
    energy: options.energy ?? "stated, else general",
    earlierSeasons: options.earlierSeasons ?? true,
    flagLimits: options.flagLimits ?? {},
  };
  const cut = studyUpTo(study, onDay);
  const isNow = tellsOfNow(onDay, end, options.now);
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
  const reported = async (done: number, total: number, doing: string) => {
    options.onProgress?.({ done, total, doing });
    // Lets a signal arrive, and a notebook show progress, between two steps.
    await new Promise((resume) => setImmediate(resume));
    stopIfCancelled(options.signal);
  };
  await reported(0, cut.tables.animals.length, "histories and flags of all animals");
  const series = buildSeries(cut);
  const { settings } = series;
  const intakes = new Map(
    series.animals.map((each) => [
      each.animal.animalId,
      intakeByDay(each, { settings, energy: resolved.energy }),
    ]),
  );
  const { earlierSeasons, flagLimits, energy } = resolved;
  const remembered = rememberedOf(study);
  const about = { onDay, earlierSeasons, flagLimits, energy };
  const flagSteps = rememberSteps(remembered, "flags", about, () =>
    findFlagsSteps(series, {
      onDay,
      earlierSeasons,
      intakeOf: (animalId) => intakes.get(animalId)?.value,
      limits: flagLimits,
      ...(options.kept === undefined ? {} : { kept: options.kept }),
      acknowledgements: cut.acknowledgements ?? [],
    }),
  );
  const flags = await runStepsInTurns(flagSteps, longWorkOf(options));
  const byAnimal = new Map(flags.value.animals.map((day) => [day.animalId, day]));
  const stretches = stretchesBySpecies(series.animals);
  const alone = [];
  const { gainDays, conversionDays, curves } = resolved;
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
      ...remember(remembered, "animal", asked, () => ({
        ...analyseAnimal(each, settings, known.intake, known.day, {
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
    await reported(i + 1, series.animals.length, doing);
  }
  const animals = withZ(series, alone, resolved);
  const missing = whatIsMissing(cut);
  const value: StudyAnalysis = {
    title: study.settings.title,
    settings: study.settings,
    onDay,
    gainDays: resolved.gainDays,
    diets: study.tables.diets.map(({ dietId, name }) => ({ dietId, name })),
    records: {
      counts: study.counts,
      setAside: study.setAside,
      notices: study.notices,
      inputs: study.inputs,
      slips: series.animals.flatMap((animal) =>
        animal.weighings
          .filter((w) => w.standing === "suspected slip")
          .map((weighing) => ({ animalId: animal.animal.animalId, weighing })),
      ),
      missing,
      // Looking at an earlier day, the records end with that day.
      end: end.day !== null && onDay < end.day ? defaultDay(cut).at : end.at,
      questions: cut.questions ?? [],
      tellsOfNow: isNow,
      aboutDay: [
        ...aboutDay(onDay, end, options.now !== undefined && !isNow),
        // Limits, instructions and answers that would never be used are said on every page.
        ...levelNotices(series).filter((n) => n.level === "problem"),
      ],
    },
    series,
    animals,
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
    basis: {
      used: cut.tables.weighings.length,
      of: "weighings",
      leftOut: [
        {
          reason: "weighings set aside when reading",
          count: study.setAside.filter((row) => row.table === "weighings").length,
        },
        {
          reason: "weighings after the day looked at",
          count: study.tables.weighings.length - cut.tables.weighings.length,
        },
      ].filter((each) => each.count > 0),
    },
    diagnostics: {},
    notices: [
      ...missing,
      ...(resolved.earlierSeasons ? [notice("analysis-earlier-seasons", "info")] : []),
      ...flags.notices,
    ],
  };
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

function tellsOfNow(onDay: CivilDate, end: DefaultDay, now: number | undefined): boolean {
  if (now === undefined) return false;
  if (end.day === null || end.at === null || onDay > end.day) return true;
  return onDay === end.day && now - end.at <= NEAR_MS;
}

/** What the first line of every page must say about its day. */
function aboutDay(onDay: CivilDate, end: DefaultDay, isOld: boolean): Notice[] {
  const found: Notice[] = [];
  if (end.day !== null && end.at !== null && onDay > end.day)
    found.push(
      notice("analysis-day-beyond-records", "problem", {
        day: onDay,
        end: end.at,
        days: daysBetween(end.day, onDay),
      }),
    );
  else if (isOld && onDay === end.day && !end.clockDoubted)
    found.push(notice("analysis-records-old", "caution", { end: end.at! }));
  if (end.clockDoubted)
    found.push(notice("analysis-clock-behind", "problem", { rows: end.afterClock }));
  else if (end.afterClock > 0)
    found.push(
      notice("analysis-rows-after-clock", "problem", {
        rows: end.afterClock,
        where: end.firstAfterClock,
      }),
    );
  return found;
}

function checkDay(day: string): void {
  if (isCivilDate(day)) return;
  throw new UsageError({
    needed: "a day written as YYYY-MM-DD",
    came: `"${day}"`,
    where: "analyse, option onDay",
    todo: "Write, for example, 2024-07-10.",
  });
}

function whatIsMissing(study: Study): Notice[] {
  const { tables } = study;
  return [
    ...(tables.feeds.length === 0 ? [notice("analysis-no-feeds", "caution")] : []),
    ...(tables.feeds.length > 0 && tables.diets.length === 0
      ? [notice("analysis-no-diets", "caution")]
      : []),
    ...(tables.observations.length === 0 ? [notice("analysis-no-observations", "info")] : []),
    ...(tables.scaleChecks.length === 0 ? [notice("analysis-no-scale-checks", "info")] : []),
  ];
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
