import type { Steps } from "../core/steps.js";
import { careReader, careSpan, recordEnd } from "../reference/in-care.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../series/animal-series.js";
import { dateOfNumber, type FeedingDaySpan, feedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { Episode } from "./animal-day/episode.js";
import type { AnimalDay, NotJudged } from "./animal-day/flag.js";
import type { PreparedAnimal } from "./animal-day/prepared-animal.js";
import { rowUpTo } from "./animal-day/row-up-to.js";
import type { Signal } from "./animal-day/signal.js";
import { assembleDay, worstFirst } from "./assemble-day.js";
import { type FlagCalibration, thresholdsFor } from "./budget/false-flag-budget.js";
import { countAnimals } from "./count-animals.js";
import { closeWithRecord, type EpisodeMemory, nextEpisode, noEpisodes } from "./episodes.js";
import type { FlagDay, Replay, ReplayOptions } from "./replay.js";
import type { Agreed, ReplayedDay, ReplayedFrom, ReplayedSoFar } from "./replay-history.js";
import { ReplayLookups } from "./replay-lookups.js";
import { type Conversion, conversionOn, conversionRecord } from "./rules/conversion-record.js";
import { conversionSignal } from "./rules/conversion-signal.js";
import type { RuleLimits } from "./rules/rule-limits.js";
import { ruleOutcomes } from "./rules/rule-outcomes.js";
import { type WhatIsWritten, whatIsWritten } from "./rules/what-is-written.js";
import { sharedCause } from "./shared-cause.js";
import { expectedToday, type FoundExpectation } from "./watch/expected-today.js";
import { judgementStandsD } from "./watch/judged-days.js";
import { statisticalSignals, statisticalStrength } from "./watch/statistical-signals.js";
import type { PerStatistic } from "./watch/watch-group.js";
import type { FoundDay, StudyWatch } from "./watch/watch-of-study.js";
import { isJudged } from "./watch/watched-day.js";

/** All that is fixed for every day of a replay. */
export interface ReplaySettings {
  readonly options: ReplayOptions;
  readonly limits: RuleLimits;
  readonly calibration: FlagCalibration;
  /** False flags per 100 healthy animal-weeks. */
  readonly budget: number;
  readonly firstNumber: number;
  readonly firstShown: number;
  readonly lastNumber: number;
}

/** One day as it is worked out. */
interface Day {
  readonly number: number;
  readonly day: CivilDate;
  readonly span: FeedingDaySpan;
  readonly shown: boolean;
  readonly inCare: readonly AnimalSeries[];
  readonly found: ReadonlyMap<string, FoundDay>;
  readonly conversions: ReadonlyMap<string, { own: Conversion | null; ageD: number | null }>;
  /** Lists of the day, filled animal by animal. */
  readonly animals: AnimalDay[];
  readonly open: Episode[];
  readonly closed: Episode[];
}

/** Goes through the days of a study in order: signals, episodes, shared causes. */
export class ReplayDays {
  readonly phaseOn: (animalId: string, day: CivilDate) => string | null;
  private readonly memory = new Map<string, EpisodeMemory>();
  /** In which place an animal was first remembered, and who has an open episode. */
  private readonly placeOf = new Map<string, number>();
  private readonly open = new Set<string>();
  private readonly converted = conversionRecord();
  private readonly bySize = new Map<number, PerStatistic>();
  private readonly lookups: ReplayLookups;
  private readonly byId: ReadonlyMap<string, AnimalSeries>;
  private readonly written: WhatIsWritten;
  /** Kept where a history is asked for: of every animal and day, so of many years too much else. */
  private readonly days: ReplayedDay[] = [];
  private today = { memories: [] as [string, EpisodeMemory][], groups: new Set<number>() };

  constructor(
    private readonly study: StudySeries,
    private readonly settings: ReplaySettings,
    private readonly before: ReplayedSoFar | null,
    agreed: Agreed,
    private readonly keepsDays: boolean,
  ) {
    this.byId = new Map(study.animals.map((a) => [a.animal.animalId, a]));
    this.written = whatIsWritten(study.animals, study.settings, settings.limits);
    this.lookups = new ReplayLookups(study, settings.options, before, agreed.byAnimal);
    this.phaseOn = this.lookups.phaseOn;
  }

  /** The study without animals whose record ended earlier, where they are not to serve. */
  keptStudy(): StudySeries {
    const { options, firstNumber } = this.settings;
    if (options.earlierSeasons !== false) return this.study;
    const from = options.from ?? dateOfNumber(firstNumber);
    const animals = this.study.animals.filter((a) => !hasEndedBefore(a, from));
    return { ...this.study, animals };
  }

  /** Every day after `goOnFrom`, up to which the history holds them; those shown are handed back. */
  *replay(
    watch: StudyWatch,
    goOnFrom: number,
  ): Steps<Pick<Replay, "days" | "episodes" | "thresholds">> {
    const { firstNumber, firstShown, lastNumber } = this.settings;
    this.thresholdsAt(11);
    const start = Math.max(firstNumber, this.goOn(goOnFrom));
    const inCareOn = rosterOf(this.study, dateOfNumber(start));
    const shown: FlagDay[] = [];
    for (let number = start; number <= lastNumber; number++) {
      const date = dateOfNumber(number);
      const [done, total] = [number - firstNumber, lastNumber - firstNumber + 1];
      yield done % 30 === 0 ? { done, total, doing: `flags of ${date}` } : undefined;
      const day = this.beginDay(number, inCareOn(date), watch, number >= firstShown);
      const scalesDisagree = this.judgeAll(day, watch);
      this.closeEnded(day);
      if (day.shown) shown.push(this.listOf(day, watch, scalesDisagree));
    }
    return {
      days: shown,
      episodes: allEpisodes(this.memory.values()),
      thresholds: [...this.bySize]
        .sort((a, b) => a[0] - b[0])
        .map(([animals, values]) => ({ animals, values })),
    };
  }

  /** What another replay may go on from. */
  soFar(from: ReplayedFrom): ReplayedSoFar {
    const { days, lookups, settings } = this;
    const { phases, intakes } = lookups;
    return { from, firstNumber: settings.firstNumber, days, phases, intakes };
  }

  /** Carries what the history's days up to one have added; answers the first day to be worked out. */
  private goOn(upTo: number): number {
    const { before } = this;
    const { firstNumber } = this.settings;
    if (before === null || before.firstNumber !== firstNumber) return firstNumber;
    for (const day of before.days.slice(0, Math.max(0, upTo - firstNumber + 1))) {
      for (const [id, memory] of day.memories) this.keep(id, memory);
      for (const { id, species, ageD, own } of day.conversions)
        this.converted.add(id, species, ageD, own);
      for (const animals of day.groups) this.thresholdsAt(animals);
      this.days.push(day);
    }
    return firstNumber + this.days.length;
  }

  private beginDay(
    number: number,
    inCare: readonly AnimalSeries[],
    watch: StudyWatch,
    shown: boolean,
  ): Day {
    const { zone, feedingDayStartHour } = this.study.settings;
    const day = dateOfNumber(number);
    const span = feedingDaySpan(day, zone, feedingDayStartHour);
    const added: ReplayedDay["conversions"][number][] = [];
    const conversions = new Map(
      inCare.map(({ animal: { animalId: id, species }, age: { birth } }) => {
        const ageD = birth === null ? null : (span.from - birth) / dayMs;
        const own = conversionOn(this.lookups.preparedOf(id), day, (d) => this.phaseOn(id, d));
        if (ageD !== null && own !== null) added.push({ id, species, ageD, own });
        return [id, { own, ageD }] as const;
      }),
    );
    for (const { id, species, ageD, own } of added) this.converted.add(id, species, ageD, own);
    const found = new Map((watch.watched.get(number) ?? []).map((w) => [w.id, w]));
    this.today = { memories: [], groups: new Set() };
    if (this.keepsDays)
      this.days.push({ memories: this.today.memories, conversions: added, groups: [] });
    return {
      number,
      day,
      span,
      shown,
      inCare,
      found,
      conversions,
      animals: [],
      open: [],
      closed: [],
    };
  }

  /** Judges every animal in care; whether two or more were weighed on scales that disagree. */
  private judgeAll(day: Day, watch: StudyWatch): boolean {
    let disagree = 0;
    for (const series of day.inCare) {
      const outcomes = this.judge(series, day, watch);
      if (outcomes.some((o) => "raised" in o && o.raised && o.kind === "scales disagree"))
        disagree++;
    }
    if (this.keepsDays)
      this.days[this.days.length - 1] = { ...this.days.at(-1)!, groups: [...this.today.groups] };
    return disagree >= 2;
  }

  /** One animal's day: what is said of it, and its episode one day further. */
  private judge(series: AnimalSeries, d: Day, watch: StudyWatch): readonly (Signal | NotJudged)[] {
    const id = series.animal.animalId;
    const p = this.lookups.preparedOf(id);
    const phase = this.phaseOn(id, d.day);
    const seen = d.found.get(id) ?? null;
    const thresholds = seen === null ? null : this.thresholdsAt(seen.state.animals);
    const strength = statisticalStrength(seen, thresholds);
    // What is not raised on a day that is not shown needs no evidence.
    const judged =
      d.shown || (strength ?? 0) >= 1
        ? statisticalSignals(p, rowUpTo(p, d.day), d.day, phase, seen, thresholds)
        : [];
    const outcomes = [...judged, ...this.ruledOn(p, series, d)];
    const raised = outcomes.filter((o): o is Signal => "raised" in o && o.raised);
    const before = this.memory.get(id) ?? noEpisodes;
    const answers = this.settings.options.acknowledgements ?? [];
    const after = nextEpisode(before, id, d.day, raised, strength, answers);
    this.remember(id, after);
    if (!d.shown) return outcomes;
    const foreseen = expectationOf(seen) ?? watch.unweighed.get(`${id} ${d.number}`) ?? null;
    const expected = expectedToday(id, d.day, phase, foreseen);
    const stands =
      seen === null && phase !== "post-weaning fast" ? standsFrom(watch, id, d.number) : null;
    d.animals.push(assembleDay(series, d.day, phase, outcomes, after.current, expected, stands));
    if (after.current !== null) d.open.push(after.current);
    if (after.past.length > before.past.length) d.closed.push(after.past.at(-1)!);
    return outcomes;
  }

  /** What the rules outside the budget say, the conversion beside that of the others at its age. */
  private ruledOn(p: PreparedAnimal, series: AnimalSeries, d: Day): (Signal | NotJudged)[] {
    const { own, ageD } = d.conversions.get(p.id)!;
    const { options, limits } = this.settings;
    const only = options.earlierSeasons === false ? new Set(d.conversions.keys()) : null;
    const others =
      own === null || ageD === null
        ? { animals: 0, middle: null }
        : this.converted.others(p.id, series.animal.species, ageD, only);
    return [
      ...ruleOutcomes(
        p,
        d.day,
        d.span,
        (on) => this.phaseOn(p.id, on),
        this.written,
        limits,
        d.shown,
      ),
      ...conversionSignal(p.id, own, others, limits),
    ];
  }

  /** Nobody can look again at an animal whose record has ended. */
  private closeEnded(d: Day): void {
    const ended = [...this.open].filter((id) => hasEndedBefore(this.byId.get(id)!, d.day));
    if (ended.length > 1) ended.sort((a, b) => this.placeOf.get(a)! - this.placeOf.get(b)!);
    for (const id of ended) {
      const after = closeWithRecord(this.memory.get(id)!, d.day);
      this.remember(id, after);
      d.closed.push(after.past.at(-1)!);
    }
  }

  private listOf(d: Day, watch: StudyWatch, scalesDisagree: boolean): FlagDay {
    const surprises = [...d.found.values()].map((w) => ({
      animalId: w.id,
      surprise: w.seen.surprise,
    }));
    const prepared = { get: (id: string) => this.lookups.preparedOf(id) };
    const shared = sharedCause(this.study, prepared, d.day, d.span, surprises, scalesDisagree);
    d.animals.sort(worstFirst);
    return {
      onDay: d.day,
      animals: d.animals,
      counts: countAnimals(d.animals),
      open: d.open,
      closed: d.closed,
      sharedCauses: shared === null ? [] : [shared],
      together: watch.together.filter((t) => t.day === d.day),
    };
  }

  private remember(id: string, memory: EpisodeMemory): void {
    this.keep(id, memory);
    this.today.memories.push([id, memory]);
  }

  private keep(id: string, memory: EpisodeMemory): void {
    if (!this.memory.has(id)) this.placeOf.set(id, this.memory.size);
    this.memory.set(id, memory);
    if (memory.current === null) this.open.delete(id);
    else this.open.add(id);
  }

  private thresholdsAt(animals: number): PerStatistic {
    const { calibration, budget } = this.settings;
    const known = this.bySize.get(animals) ?? thresholdsFor(calibration, budget, animals);
    this.bySize.set(animals, known);
    this.today.groups.add(animals);
    return known;
  }
}

/**
 * Who is in care on a day, of days from one on in order. Only those between their first day
 * and their last are asked about, for a study may hold the animals of many years.
 */
function rosterOf(study: StudySeries, start: CivilDate): (day: CivilDate) => AnimalSeries[] {
  const stays = study.animals.flatMap((series, place) => {
    const span = careSpan(series, study.settings);
    const isInCare = careReader(series, study.settings);
    return span === null || span.to < start ? [] : [{ series, place, isInCare, ...span }];
  });
  const toCome = stays.slice().sort((a, b) => (a.from < b.from ? 1 : -1));
  let here: typeof stays = [];
  return (day) => {
    here = here.filter((stay) => stay.to >= day);
    while (toCome.length > 0 && toCome.at(-1)!.from <= day) here.push(toCome.pop()!);
    here.sort((a, b) => a.place - b.place);
    return here.flatMap((stay) => (stay.isInCare(day) ? [stay.series] : []));
  };
}

/** The day of the last four on which an animal was weighed and judged, where it is the newest weighed. */
function standsFrom({ watched }: StudyWatch, id: string, today: number): CivilDate | null {
  for (let number = today - 1; number >= today - judgementStandsD; number--) {
    const found = watched.get(number)?.find((w) => w.id === id);
    if (found !== undefined) return isJudged(found.seen.statistics) ? dateOfNumber(number) : null;
  }
  return null;
}

function allEpisodes(memories: Iterable<EpisodeMemory>): Episode[] {
  const all = [...memories].flatMap((m) => [...m.past, ...(m.current === null ? [] : [m.current])]);
  const place = (e: Episode) => `${e.openedOn} ${e.animalId}`;
  return all.sort((a, b) => (place(a) < place(b) ? -1 : 1));
}

function expectationOf(found: FoundDay | null): FoundExpectation | null {
  const expected = found?.seen.expected ?? null;
  if (found === null || expected === null) return null;
  const { seen, state, dayOfIndex } = found;
  const { surprise } = seen;
  const weighed = { logMass: expected.logMass + surprise * expected.sd, surprise };
  return { expected, state, lastDay: dayOfIndex(seen.index - 1), weighed };
}

function hasEndedBefore(series: AnimalSeries, day: CivilDate): boolean {
  const end = recordEnd(series);
  return end !== null && end < day;
}
