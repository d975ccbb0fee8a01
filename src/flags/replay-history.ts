import { sameContent } from "../core/same-content.js";
import type { IntakeDay } from "../rates/intake-by-day.js";
import { admittedOn, recordEnd } from "../reference/in-care.js";
import { agreedUpTo } from "../series/agreed-up-to.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../series/animal-series.js";
import { feedingDayOf, numberOfDate } from "../units/calendar.js";
import type { Acknowledgement } from "./animal-day/episode.js";
import type { FlagCalibration } from "./budget/false-flag-budget.js";
import type { EpisodeMemory } from "./episodes.js";
import type { Conversion } from "./rules/conversion-record.js";
import type { WatchHistory } from "./watch/watch-history.js";

/** What one day of a replay adds to what is carried from day to day. */
export interface ReplayedDay {
  /** Memories of episodes that the day set anew, in order. */
  readonly memories: readonly (readonly [id: string, memory: EpisodeMemory])[];
  readonly conversions: readonly {
    readonly id: string;
    readonly species: string;
    readonly ageD: number;
    readonly own: Conversion;
  }[];
  /** Sizes of the groups that were judged. */
  readonly groups: readonly number[];
}

/** What the days of a replay hang on beside the watch over weighings. */
export interface ReplayedFrom {
  readonly study: StudySeries;
  readonly intakeOf: (animalId: string) => readonly IntakeDay[] | undefined;
  readonly acknowledgements: readonly Acknowledgement[];
  readonly calibration: FlagCalibration;
  /** Limits, budget and whatever else is fixed for all days, as text. */
  readonly settings: string;
}

export interface ReplayedSoFar {
  readonly from: ReplayedFrom;
  readonly firstNumber: number;
  readonly days: readonly ReplayedDay[];
  /** Phases worked out, by animal and day. */
  readonly phases: ReadonlyMap<string, ReadonlyMap<CivilDate, string | null>>;
  /** Intake worked out here, by animal. */
  readonly intakes: ReadonlyMap<string, readonly IntakeDay[]>;
}

/**
 * What a replay hands back to be handed in again: the watch over weighings of each species,
 * by its name, and what every day added. It may be older, newer or of other records: what
 * it says serves up to the day on which the records agree.
 */
export interface ReplayHistory {
  readonly watch: ReadonlyMap<string, WatchHistory>;
  /** Null where a replay was asked that no other may go on from. */
  readonly replayed: ReplayedSoFar | null;
}

/** How far a history serves: the last day for all animals together, and for each by itself. */
export interface Agreed {
  readonly upTo: number;
  readonly byAnimal: ReadonlyMap<string, number>;
}

const never: Agreed = { upTo: Number.NEGATIVE_INFINITY, byAnimal: new Map() };

/** Up to which feeding day, as a number, the records of a history and those at hand agree. */
export function agreedSoFar(before: ReplayedSoFar | null, now: ReplayedFrom | null): Agreed {
  if (before === null || now === null) return never;
  const { from } = before;
  if (from.settings !== now.settings || from.calibration !== now.calibration) return never;
  const was = new Map(from.study.animals.map((a) => [a.animal.animalId, a]));
  const is = new Map(now.study.animals.map((a) => [a.animal.animalId, a]));
  const common = [...was.keys()].filter((id) => is.has(id));
  if ([...is.keys()].filter((id) => was.has(id)).some((id, i) => id !== common[i])) return never;
  const byAnimal = new Map<string, number>();
  let upTo = beforeAnswered(from.acknowledgements, now.acknowledgements);
  for (const id of new Set([...was.keys(), ...is.keys()])) {
    const [a, b] = [was.get(id), is.get(id)];
    const day =
      a === undefined || b === undefined
        ? beforeFirst((a ?? b)!, now.study)
        : Math.min(alike(a, b, now.study), fedAlike(from.intakeOf(id), now.intakeOf(id)));
    byAnimal.set(id, day);
    upTo = Math.min(upTo, day);
  }
  return { upTo, byAnimal };
}

/** The last day on which two readings of an animal, its stay included, say the same. */
function alike(a: AnimalSeries, b: AnimalSeries, { settings }: StudySeries): number {
  const at = agreedUpTo(a, b);
  const [end, other] = [recordEnd(a), recordEnd(b)];
  const ends = [end, other].flatMap((d) => (d === null ? [] : [numberOfDate(d)]));
  // While nothing says when it came, its end decides whether it is here at all.
  if (end !== other && admittedOn(a, settings) === null) return Number.NEGATIVE_INFINITY;
  // That a record has ended is known on the day itself; the lists change from the next on.
  const ended = end === other ? Number.POSITIVE_INFINITY : Math.min(...ends) - 1;
  return Math.min(dayBefore(at, settings), dayBefore(lastFed(a, b), settings), ended);
}

/** Its last day with feeds may be told only in part; the newest feed of the two, where one has more. */
function lastFed(a: AnimalSeries, b: AnimalSeries): number {
  const [one, other] = [a, b].map((x) => x.feeds.at(-1)?.at ?? Number.POSITIVE_INFINITY);
  return one === other ? Number.POSITIVE_INFINITY : Math.min(one!, other!);
}

/** The day before that of an instant; infinite ones stay. */
function dayBefore(at: number, settings: StudySeries["settings"]): number {
  if (!Number.isFinite(at)) return at;
  return numberOfDate(feedingDayOf(at, settings.zone, settings.feedingDayStartHour)) - 1;
}

/** The last day before anything was written of an animal. */
function beforeFirst(series: AnimalSeries, { settings }: StudySeries): number {
  const rows = [series.weighings, series.daily, series.feeds, series.sharedFeeds, series.signs];
  const orders = series.orders.lines.map((line) => line.from);
  const first = Math.min(
    series.animal.admittedAt ?? series.span?.from ?? Number.NEGATIVE_INFINITY,
    ...rows.map((r) => r[0]?.at ?? Number.POSITIVE_INFINITY),
    ...orders,
  );
  return dayBefore(first, settings);
}

/** Energy may be counted otherwise though the records are the same. */
function fedAlike(
  a: readonly IntakeDay[] | undefined,
  b: readonly IntakeDay[] | undefined,
): number {
  if (a === b) return Number.POSITIVE_INFINITY;
  if (a === undefined || b === undefined) return Number.NEGATIVE_INFINITY;
  const n = Math.min(a.length, b.length);
  let i = 0;
  while (i < n && sameIntake(a[i]!, b[i]!)) i++;
  const day = (days: readonly IntakeDay[]) =>
    days[i] === undefined ? Number.POSITIVE_INFINITY : numberOfDate(days[i]!.feedingDay);
  return Math.min(day(a), day(b)) - 1;
}

/** What the rules read of a day's intake; shares of a mass that later weighings smooth are not. */
function sameIntake(a: IntakeDay, b: IntakeDay): boolean {
  if (a === b) return true;
  const read = ({ massG, shareOfMassPct, kcalPerMetabolicKg, waterMlPerKg, ...day }: IntakeDay) =>
    day;
  return sameContent(read(a), read(b));
}

/** The last day before the first answer that only one of the two has. */
function beforeAnswered(a: readonly Acknowledgement[], b: readonly Acknowledgement[]): number {
  if (sameContent(a, b)) return Number.POSITIVE_INFINITY;
  const [one, other] = [a, b].map((all) => new Set(all.map((each) => JSON.stringify(each))));
  const unlike = [
    ...a.filter((each) => !other!.has(JSON.stringify(each))),
    ...b.filter((each) => !one!.has(JSON.stringify(each))),
  ];
  const days = unlike.length === 0 ? [...a, ...b] : unlike;
  return Math.min(...days.map((each) => numberOfDate(each.on) - 1));
}
