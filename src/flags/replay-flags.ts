import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import type { ContemporaryOptions } from "../reference/contemporaries.js";
import { inCareOn, recordEnd } from "../reference/in-care.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../series/animal-series.js";
import { dateOfNumber, feedingDaySpan, numberOfDate } from "../units/calendar.js";
import { assembleDay, worstFirst } from "./assemble-day.js";
import { causalPhases } from "./causal-phases.js";
import { dangerSignals, rowUpTo } from "./danger-signals.js";
import { defaultCalibration } from "./default-calibration.js";
import {
  type Acknowledgement,
  type Episode,
  type EpisodeMemory,
  nextEpisode,
  noEpisodes,
} from "./episodes.js";
import { type FlagCalibration, thresholdsFor } from "./false-flag-budget.js";
import { feedingSignals } from "./feeding-signals.js";
import type { AnimalDay, NotJudged, Signal } from "./flag.js";
import { type PreparedAnimal, prepareAnimal } from "./prepared-animal.js";
import { defaultRuleLimits, type RuleLimits } from "./rule-limits.js";
import { type SharedCause, sharedCause } from "./shared-cause.js";
import { statisticalSignals } from "./statistical-signals.js";
import { type WatchedDay, type WatchState, watchGroup } from "./watch-group.js";
import { watchedSpecies } from "./watch-study.js";
import {
  conversionSignal,
  gainPer1000Kcal,
  noGainSignal,
  scalesSignal,
} from "./weighing-signals.js";

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
  readonly illnessKinds?: NonNullable<ContemporaryOptions["illnessKinds"]>;
  /** Phase of an animal on a day, from data up to that day. Default: worked out here. */
  readonly phaseOn?: (animalId: string, day: CivilDate) => string | null;
  /** Animals whose record ended earlier stay in the reference. Default true. */
  readonly earlierSeasons?: boolean;
}

/** The list of one day. */
export interface FlagDay {
  readonly onDay: CivilDate;
  /** Every animal in care that day, worst first; then not judged; then not flagged. */
  readonly animals: readonly AnimalDay[];
  readonly counts: {
    readonly flagged: number;
    readonly notFlagged: number;
    readonly notJudged: number;
  };
  /** Episodes open at the end of the day, one for each animal in trouble. */
  readonly open: readonly Episode[];
  /** Episodes that closed on the day. */
  readonly closed: readonly Episode[];
  readonly sharedCauses: readonly SharedCause[];
}

export interface Replay {
  readonly days: readonly FlagDay[];
  /** Thresholds used, by size of group, in the order of `watchedStatistics`. */
  readonly thresholds: readonly { readonly animals: number; readonly values: readonly number[] }[];
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
  const { zone, feedingDayStartHour } = study.settings;
  const limits = { ...defaultRuleLimits, ...options.rules };
  const calibration = options.calibration ?? defaultCalibration;
  const budget = options.falseFlagsPer100AnimalWeeks ?? 2;
  const first = firstDay(study);
  const last = options.to ?? lastDay(study);
  if (first === null || last === null || last < first) return { days: [], thresholds: [] };
  const firstShown = numberOfDate(options.from ?? first);
  const firstNumber = numberOfDate(first);
  const lastNumber = numberOfDate(last);
  const prepared = new Map(
    study.animals.map((a) => [a.animal.animalId, prepareAnimal(a, study.settings)]),
  );
  const intakes = new Map([...prepared].map(([id, p]) => [id, [...p.intake.values()]]));
  const phaseOn = options.phaseOn ?? causalPhases(study, (id) => intakes.get(id));
  const kept =
    options.earlierSeasons === false
      ? { ...study, animals: study.animals.filter((a) => notEndedBefore(a, options.from ?? first)) }
      : study;

  // 1. What the weighings say, species by species.
  const watched = new Map<number, Found[]>();
  const bySize = new Map<number, readonly number[]>();
  const thresholdsAt = (animals: number): readonly number[] => {
    const known = bySize.get(animals) ?? thresholdsFor(calibration, budget, animals);
    bySize.set(animals, known);
    return known;
  };
  thresholdsAt(11);
  const illness = options.illnessKinds === undefined ? {} : { illnessKinds: options.illnessKinds };
  for (const species of watchedSpecies(kept, { ...illness, phaseOn })) {
    stopIfCancelled(options.signal);
    watchGroup(species.animals, lastNumber, {}, (seen, state) => {
      const source = species.animals[seen.animal]!;
      const entry: Found = { id: source.id, seen, state, dayOfIndex: (i) => source.day[i]! };
      const list = watched.get(seen.day);
      if (list === undefined) watched.set(seen.day, [entry]);
      else list.push(entry);
    });
  }

  // 2. Day by day: signals, episodes, shared causes.
  const memory = new Map<string, EpisodeMemory>();
  const days: FlagDay[] = [];
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
    const inCare = study.animals.filter((a) => inCareOn(a, day, study.settings));
    const conversions = new Map(
      inCare.map((a) => [
        a.animal.animalId,
        gainPer1000Kcal(prepared.get(a.animal.animalId)!, day),
      ]),
    );
    const animals: AnimalDay[] = [];
    const open: Episode[] = [];
    const closed: Episode[] = [];
    let scalesDisagree = 0;
    for (const series of inCare) {
      const id = series.animal.animalId;
      const p = prepared.get(id)!;
      const phase = phaseOn(id, day);
      const outcomes = outcomesOf(p, series, day, span, phase, today.get(id) ?? null);
      if (outcomes.some((o) => "raised" in o && o.raised && o.kind === "scales disagree"))
        scalesDisagree++;
      const signals = outcomes.filter((o): o is Signal => "raised" in o);
      const raised = signals.filter((s) => s.raised);
      const statistical = signals.filter((s) => s.class === "statistical");
      const strength =
        statistical.length === 0 ? null : Math.max(...statistical.map((s) => s.strength));
      const before = memory.get(id) ?? noEpisodes;
      const after = nextEpisode(before, id, day, raised, strength, options.acknowledgements ?? []);
      memory.set(id, after);
      if (!shown) continue;
      animals.push(assembleDay(series, day, phase, outcomes, after.current));
      if (after.current !== null) open.push(after.current);
      if (after.past.length > before.past.length) closed.push(after.past.at(-1)!);
    }
    if (!shown) continue;
    const surprises = [...today.values()].map((w) => ({
      animalId: w.id,
      surprise: w.seen.surprise,
    }));
    const shared = sharedCause(study, prepared, day, span, surprises, scalesDisagree >= 2);
    animals.sort(worstFirst);
    const count = (status: AnimalDay["status"]) =>
      animals.filter((a) => a.status === status).length;
    days.push({
      onDay: day,
      animals,
      counts: {
        flagged: count("flagged"),
        notFlagged: count("not flagged"),
        notJudged: count("not judged"),
      },
      open,
      closed,
      sharedCauses: shared === null ? [] : [shared],
    });

    function outcomesOf(
      p: PreparedAnimal,
      series: AnimalSeries,
      on: CivilDate,
      s: typeof span,
      phase: string | null,
      seen: Found | null,
    ): (Signal | NotJudged)[] {
      const t = seen === null ? [] : thresholdsAt(seen.state.animals);
      const fasting = phase === "post-weaning fast";
      return [
        ...statisticalSignals(p, rowUpTo(p, on), on, phase, seen, t),
        ...(fasting || phase === "arrival" ? [] : noGainSignal(p, on, limits)),
        ...dangerSignals(p, on, s, limits).filter((o) => !(fasting && o.kind === "feed gap")),
        ...(fasting ? [] : feedingSignals(p, on, limits)),
        ...scalesSignal(p, s, limits),
        ...(fasting || phase === "arrival"
          ? []
          : conversionSignal(
              p.id,
              conversions.get(p.id) ?? null,
              othersOf(p.id, series.animal.species, inCare, conversions),
              limits,
            )),
      ];
    }
  }
  return {
    days,
    thresholds: [...bySize]
      .sort((a, b) => a[0] - b[0])
      .map(([animals, values]) => ({ animals, values })),
  };
}

interface Found {
  readonly id: string;
  readonly seen: WatchedDay;
  readonly state: WatchState;
  readonly dayOfIndex: (index: number) => number;
}

function othersOf(
  id: string,
  species: string,
  inCare: readonly AnimalSeries[],
  conversions: ReadonlyMap<string, number | null>,
): number[] {
  return inCare.flatMap((a) => {
    const value = conversions.get(a.animal.animalId) ?? null;
    return a.animal.animalId === id || a.animal.species !== species || value === null
      ? []
      : [value];
  });
}

function notEndedBefore(series: AnimalSeries, day: CivilDate): boolean {
  const end = recordEnd(series);
  return end === null || end >= day;
}

function firstDay(study: StudySeries): CivilDate | null {
  const days = study.animals.flatMap((a) => a.daily[0]?.feedingDay ?? []);
  return days.sort()[0] ?? null;
}

/** Last day with a weighing. */
export function lastDay(study: StudySeries): CivilDate | null {
  const days = study.animals.flatMap((a) => a.daily.at(-1)?.feedingDay ?? []);
  return days.sort().at(-1) ?? null;
}
