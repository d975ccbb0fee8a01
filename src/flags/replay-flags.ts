import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import { normal95 } from "../core/measured.js";
import type { IntakeDay } from "../rates/intake-by-day.js";
import { limitsInForce } from "../rates/limits-in-force.js";
import type { Borrowed } from "../reference/expectation-prior.js";
import { careReader, recordEnd } from "../reference/in-care.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../series/animal-series.js";
import { dateOfNumber, feedingDaySpan, numberOfDate } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { Acknowledgement, Episode } from "./animal-day/episode.js";
import type { AnimalDay, NotJudged } from "./animal-day/flag.js";
import { type PreparedAnimal, prepareAnimal } from "./animal-day/prepared-animal.js";
import { rowUpTo } from "./animal-day/row-up-to.js";
import type { Signal } from "./animal-day/signal.js";
import { assembleDay, worstFirst } from "./assemble-day.js";
import { defaultCalibration } from "./budget/default-calibration.js";
import { type FlagCalibration, thresholdsFor } from "./budget/false-flag-budget.js";
import { countAnimals, type FlagCounts } from "./count-animals.js";
import { closeWithRecord, type EpisodeMemory, nextEpisode, noEpisodes } from "./episodes.js";
import { conversionOn, conversionRecord } from "./rules/conversion-record.js";
import { conversionSignal } from "./rules/conversion-signal.js";
import { defaultRuleLimits, type RuleLimits } from "./rules/rule-limits.js";
import { ruleOutcomes } from "./rules/rule-outcomes.js";
import { whatIsWritten } from "./rules/what-is-written.js";
import { type SharedCause, sharedCause } from "./shared-cause.js";
import { causalPhases } from "./watch/causal-phases.js";
import { expectedToday, type FoundExpectation } from "./watch/expected-today.js";
import { type ShortTogether, shortTogether } from "./watch/short-together.js";
import { statisticalSignals, statisticalStrength } from "./watch/statistical-signals.js";
import {
  type Foreseen,
  type PerStatistic,
  type UnweighedDay,
  type WatchedDay,
  type WatchedGroup,
  type WatchState,
  watchOn,
} from "./watch/watch-group.js";
import type { WatchHistory } from "./watch/watch-history.js";
import { watchedSpecies } from "./watch/watch-study.js";

export interface ReplayOptions extends LongWork {
  /** Days handed back. Default: every day from the first weighing to the last. */
  readonly from?: CivilDate;
  readonly to?: CivilDate;
  /** The one number to choose: false flags per 100 healthy animal-weeks, 0.5 to 10. Default 2. */
  readonly falseFlagsPer100AnimalWeeks?: number;
  /** Thresholds found for another world than the one that ships; see `calibrateFlags`. */
  readonly calibration?: FlagCalibration;
  readonly rules?: Partial<RuleLimits>;
  readonly acknowledgements?: readonly Acknowledgement[];
  /** Phase of an animal on a day, from data up to that day. Default: worked out here. */
  readonly phaseOn?: (animalId: string, day: CivilDate) => string | null;
  /** Intake by day where it is worked out already, by animal. Default: worked out here. */
  readonly intakeOf?: (animalId: string) => readonly IntakeDay[] | undefined;
  /** Animals whose record ended earlier stay in the reference. Default true. */
  readonly earlierSeasons?: boolean;
  /** Whether seasons that are short together are looked for on the days handed back. Default true. */
  readonly together?: boolean;
}

/** The list of one day. */
export interface FlagDay {
  readonly onDay: CivilDate;
  /** Every animal in care that day, worst first; then not judged; then not flagged. */
  readonly animals: readonly AnimalDay[];
  readonly counts: FlagCounts;
  /** Episodes open at the end of the day, one for each animal in trouble. */
  readonly open: readonly Episode[];
  /** Episodes that closed on the day. */
  readonly closed: readonly Episode[];
  readonly sharedCauses: readonly SharedCause[];
  /** Seasons whose animals are all short together, which no animal shows beside the others. */
  readonly together: readonly ShortTogether[];
}

/** What an animal was on course for, as seen from its first weighing of the last three weeks. */
export interface ExpectedCourse {
  readonly animalId: string;
  readonly days: readonly {
    readonly day: CivilDate;
    readonly massG: number;
    /** Limits that hold 95 in 100 weighings of that day. */
    readonly lowG: number;
    readonly highG: number;
  }[];
}

/** Days before the last one from which a course is seen: three weeks with both ends. */
const courseDays = 20;
/** Progress is told, and a signal heard, after so many weighed animal-days. */
const animalDaysAStep = 25;

/** What the expectation of one species' animals in care was borrowed from. */
export interface BorrowedFor extends Borrowed {
  readonly species: string;
}

export interface Replay {
  readonly days: readonly FlagDay[];
  /** Every episode from the first record to the last day, in order of opening; open ones included. */
  readonly episodes: readonly Episode[];
  /** What was borrowed for the seasons in care on the last day. */
  readonly borrowed: readonly BorrowedFor[];
  /** One an animal that was weighed twice by then; none in the arrival phase or the fast. */
  readonly courses: readonly ExpectedCourse[];
  /** Thresholds used, by size of group. */
  readonly thresholds: readonly { readonly animals: number; readonly values: PerStatistic }[];
}

/**
 * Replays the flags of a study day by day, each list exactly as it would have
 * been at the end of that feeding day: nothing later is read. Answers the day's
 * list for every day asked for; the memory of episodes always begins with the
 * first record.
 *
 * @example replayFlags(study, { from: "2031-05-01", to: "2031-05-31" }).days.length // 31
 */
export function replayFlags(study: StudySeries, options: ReplayOptions = {}): Replay {
  return replayFlagsOn(null, study, options).replay;
}

/** What a replay hands back to be handed in again: the watch of each species, by its name. */
export type ReplayHistory = ReadonlyMap<string, WatchHistory>;

/**
 * The same, going on from the history of an earlier replay of this study or of one that
 * agrees with it up to some day: what comes out does not depend on it, only how long it
 * takes. `"begin"` makes the first history, `null` keeps none.
 *
 * @example replayFlagsOn("begin", study, { to: "2031-05-30" }).history // for 2031-05-31
 */
export function replayFlagsOn(
  history: ReplayHistory | "begin" | null,
  study: StudySeries,
  options: ReplayOptions = {},
): { readonly replay: Replay; readonly history: ReplayHistory | null } {
  const { zone, feedingDayStartHour } = study.settings;
  const limits = { ...limitsInForce(defaultRuleLimits, study.settings), ...options.rules };
  const calibration = options.calibration ?? defaultCalibration;
  const budget = options.falseFlagsPer100AnimalWeeks ?? 2;
  const first = firstDay(study);
  const last = options.to ?? lastDay(study);
  if (first === null || last === null || last < first)
    return {
      replay: { days: [], episodes: [], borrowed: [], courses: [], thresholds: [] },
      history: history === "begin" ? null : history,
    };
  const firstShown = numberOfDate(options.from ?? first);
  const firstNumber = numberOfDate(first);
  const lastNumber = numberOfDate(last);
  const prepared = new Map(
    study.animals.map((a) => [
      a.animal.animalId,
      prepareAnimal(a, study.settings, options.intakeOf?.(a.animal.animalId)),
    ]),
  );
  const intakes = new Map([...prepared].map(([id, p]) => [id, [...p.intake.values()]]));
  const phaseOn = options.phaseOn ?? causalPhases(study, (id) => intakes.get(id));
  const kept =
    options.earlierSeasons === false
      ? { ...study, animals: study.animals.filter((a) => notEndedBefore(a, options.from ?? first)) }
      : study;

  // 1. What the weighings say, species by species.
  const watched = new Map<number, Found[]>();
  const unweighed = new Map<string, FoundExpectation>();
  const together: ShortTogether[] = [];
  const next = new Map(history === "begin" ? [] : history);
  const borrowed: BorrowedFor[] = [];
  const courses: ExpectedCourse[] = [];
  const bySize = new Map<number, PerStatistic>();
  const thresholdsAt = (animals: number): PerStatistic => {
    const known = bySize.get(animals) ?? thresholdsFor(calibration, budget, animals);
    bySize.set(animals, known);
    return known;
  };
  thresholdsAt(11);
  const bySpecies = watchedSpecies(kept, { phaseOn });
  const animalDays = bySpecies.flatMap((each) => each.animals.map((a) => a.day.length));
  const total = animalDays.reduce((sum, days) => sum + days, 0);
  let done = 0;
  for (const species of bySpecies) {
    stopIfCancelled(options.signal);
    const expectations = {
      weakGain: species.weakGain,
      priors: species.priors,
      expectFromDay: firstShown,
      seeUnweighed: ({ animal, day, index, expected }: UnweighedDay, state: WatchState) => {
        const source = species.animals[animal]!;
        const found = { expected, state, lastDay: source.day[index]!, weighed: null };
        unweighed.set(`${source.id} ${day}`, found);
      },
    };
    const grouped = {
      seeGroup: (group: WatchedGroup) => {
        const found = shortTogether(species.species, group, (i) => species.animals[i]!.id);
        if (found !== null) together.push(found);
      },
    };
    const foreseeing = {
      foreseeFromDay: lastNumber - courseDays,
      seeForeseen: (seen: Foreseen) =>
        courses.push(expectedCourse(species.animals[seen.animal]!.id, seen)),
    };
    const before = history === null || history === "begin" ? null : history.get(species.species);
    const go = history === null ? null : (before ?? "begin");
    const asked = {
      ...expectations,
      ...foreseeing,
      ...(options.together === false ? {} : grouped),
    };
    const watch = watchOn(go, species.animals, lastNumber, asked, (seen, state) => {
      const source = species.animals[seen.animal]!;
      const entry: Found = { id: source.id, seen, state, dayOfIndex: (i) => source.day[i]! };
      const list = watched.get(seen.day);
      if (list === undefined) watched.set(seen.day, [entry]);
      else list.push(entry);
      done++;
      if (done % animalDaysAStep !== 0) return;
      stopIfCancelled(options.signal);
      options.onProgress?.({ done, total, doing: `weighings of ${species.species}` });
    });
    if (watch.history !== null) next.set(species.species, watch.history);
    for (const season of watch.seasons) {
      const present = season.works.some(
        (w) => !(w.source.ended && w.source.ended.day < lastNumber),
      );
      if (present) borrowed.push({ species: species.species, ...season.borrowed });
    }
  }

  // 2. Day by day: signals, episodes, shared causes.
  const memory = new Map<string, EpisodeMemory>();
  const byId = new Map(study.animals.map((a) => [a.animal.animalId, a]));
  const days: FlagDay[] = [];
  const written = whatIsWritten([...prepared.values()], study.settings, limits);
  const converted = conversionRecord();
  const isInCare = new Map(study.animals.map((a) => [a, careReader(a, study.settings)]));
  for (let number = firstNumber; number <= lastNumber; number++) {
    if ((number - firstNumber) % 30 === 0) {
      stopIfCancelled(options.signal);
      options.onProgress?.({
        done: number - firstNumber,
        total: lastNumber - firstNumber + 1,
        doing: `flags of ${dateOfNumber(number)}`,
      });
    }
    const day = dateOfNumber(number);
    const span = feedingDaySpan(day, zone, feedingDayStartHour);
    const shown = number >= firstShown;
    const today = new Map((watched.get(number) ?? []).map((w) => [w.id, w]));
    const inCare = study.animals.filter((a) => isInCare.get(a)!(day));
    const present = new Set(inCare.map((a) => a.animal.animalId));
    const conversions = new Map(
      inCare.map(({ animal: { animalId: id, species }, age: { birth } }) => {
        const ageD = birth === null ? null : (span.from - birth) / dayMs;
        const own = conversionOn(prepared.get(id)!, day, (d) => phaseOn(id, d));
        if (ageD !== null && own !== null) converted.add(id, species, ageD, own);
        return [id, { own, ageD }] as const;
      }),
    );
    const animals: AnimalDay[] = [];
    const open: Episode[] = [];
    const closed: Episode[] = [];
    let scalesDisagree = 0;
    for (const series of inCare) {
      const id = series.animal.animalId;
      const p = prepared.get(id)!;
      const phase = phaseOn(id, day);
      const seen = today.get(id) ?? null;
      const thresholds = seen === null ? null : thresholdsAt(seen.state.animals);
      const strength = statisticalStrength(seen, thresholds);
      // What is not raised on a day that is not shown needs no evidence.
      const judged =
        shown || (strength ?? 0) >= 1
          ? statisticalSignals(p, rowUpTo(p, day), day, phase, seen, thresholds)
          : [];
      const outcomes = [...judged, ...ruledOn(p, series, day, span)];
      if (outcomes.some((o) => "raised" in o && o.raised && o.kind === "scales disagree"))
        scalesDisagree++;
      const signals = outcomes.filter((o): o is Signal => "raised" in o);
      const raised = signals.filter((s) => s.raised);
      const before = memory.get(id) ?? noEpisodes;
      const after = nextEpisode(before, id, day, raised, strength, options.acknowledgements ?? []);
      memory.set(id, after);
      if (!shown) continue;
      const foreseen = expectationOf(today.get(id)) ?? unweighed.get(`${id} ${number}`) ?? null;
      const expected = expectedToday(id, day, phase, foreseen);
      animals.push(assembleDay(series, day, phase, outcomes, after.current, expected));
      if (after.current !== null) open.push(after.current);
      if (after.past.length > before.past.length) closed.push(after.past.at(-1)!);
    }
    for (const [id, before] of memory) {
      if (before.current === null || !hasEndedBefore(byId.get(id)!, day)) continue;
      const after = closeWithRecord(before, day);
      memory.set(id, after);
      closed.push(after.past.at(-1)!);
    }
    if (!shown) continue;
    const surprises = [...today.values()].map((w) => ({
      animalId: w.id,
      surprise: w.seen.surprise,
    }));
    const shared = sharedCause(study, prepared, day, span, surprises, scalesDisagree >= 2);
    animals.sort(worstFirst);
    days.push({
      onDay: day,
      animals,
      counts: countAnimals(animals),
      open,
      closed,
      sharedCauses: shared === null ? [] : [shared],
      together: together.filter((t) => t.day === day),
    });

    function ruledOn(
      p: PreparedAnimal,
      series: AnimalSeries,
      on: CivilDate,
      s: typeof span,
    ): (Signal | NotJudged)[] {
      const { own, ageD } = conversions.get(p.id)!;
      const compared = (id: string) => options.earlierSeasons !== false || present.has(id);
      const others =
        own === null || ageD === null
          ? []
          : converted.others(p.id, series.animal.species, ageD, compared);
      return [
        ...ruleOutcomes(p, on, s, (d) => phaseOn(p.id, d), written, limits),
        ...conversionSignal(p.id, own, others, limits),
      ];
    }
  }
  const replay: Replay = {
    days,
    episodes: allEpisodes(memory.values()),
    borrowed,
    courses,
    thresholds: [...bySize]
      .sort((a, b) => a[0] - b[0])
      .map(([animals, values]) => ({ animals, values })),
  };
  return { replay, history: history === null ? null : next };
}

interface Found {
  readonly id: string;
  readonly seen: WatchedDay;
  readonly state: WatchState;
  readonly dayOfIndex: (index: number) => number;
}

function expectedCourse(animalId: string, { day, days }: Foreseen): ExpectedCourse {
  return {
    animalId,
    days: days.map(({ logMass, sd }, k) => ({
      day: dateOfNumber(day + k),
      massG: Math.exp(logMass),
      lowG: Math.exp(logMass - normal95 * sd),
      highG: Math.exp(logMass + normal95 * sd),
    })),
  };
}

function allEpisodes(memories: Iterable<EpisodeMemory>): Episode[] {
  const all = [...memories].flatMap((m) => [...m.past, ...(m.current === null ? [] : [m.current])]);
  const place = (e: Episode) => `${e.openedOn} ${e.animalId}`;
  return all.sort((a, b) => (place(a) < place(b) ? -1 : 1));
}

function expectationOf(found: Found | undefined): FoundExpectation | null {
  const expected = found?.seen.expected ?? null;
  if (found === undefined || expected === null) return null;
  const { seen, state, dayOfIndex } = found;
  const { surprise } = seen;
  const weighed = { logMass: expected.logMass + surprise * expected.sd, surprise };
  return { expected, state, lastDay: dayOfIndex(seen.index - 1), weighed };
}

function hasEndedBefore(series: AnimalSeries, day: CivilDate): boolean {
  const end = recordEnd(series);
  return end !== null && end < day;
}

function notEndedBefore(series: AnimalSeries, day: CivilDate): boolean {
  const end = recordEnd(series);
  return end === null || end >= day;
}

function firstDay(study: StudySeries): CivilDate | null {
  const days = study.animals.flatMap((a) => a.daily[0]?.feedingDay ?? []);
  return days.sort()[0] ?? null;
}

const dayInDoubt: ReadonlySet<string> = new Set(["wrong day", "days swapped"]);

/** Last day with a weighing, a doubted one included unless its day is what is doubted. */
export function lastDay(study: StudySeries): CivilDate | null {
  const days = study.animals.flatMap((a) => {
    const doubted = a.weighings.filter(
      (w) => w.slip !== null && w.netG !== null && !dayInDoubt.has(w.slip.kind),
    );
    return [a.daily.at(-1)?.feedingDay ?? [], doubted.at(-1)?.feedingDay ?? []].flat();
  });
  return days.sort().at(-1) ?? null;
}
