import { normal95 } from "../../core/measured.js";
import type { Steps } from "../../core/steps.js";
import type { Borrowed } from "../../reference/expectation-prior.js";
import type { CivilDate, StudySeries } from "../../series/animal-series.js";
import { dateOfNumber } from "../../units/calendar.js";
import type { FoundExpectation } from "./expected-today.js";
import { type ShortTogether, shortTogether } from "./short-together.js";
import {
  type Foreseen,
  type UnweighedDay,
  type WatchedDay,
  type WatchedGroup,
  type WatchState,
  watchOn,
} from "./watch-group.js";
import type { WatchHistory } from "./watch-history.js";
import type { WatchOptions } from "./watch-options.js";
import { type WatchedSpecies, watchedSpecies } from "./watch-study.js";

/** What the weighings say of one animal on one day. */
export interface FoundDay {
  readonly id: string;
  readonly seen: WatchedDay;
  readonly state: WatchState;
  readonly dayOfIndex: (index: number) => number;
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

/** What the expectation of one species' animals in care was borrowed from. */
export interface BorrowedFor extends Borrowed {
  readonly species: string;
}

/** What the weighings of a study say, species by species. */
export interface StudyWatch {
  /** By number of the day. */
  readonly watched: ReadonlyMap<number, readonly FoundDay[]>;
  /** Of animals not weighed on a day that is shown, by id and number of the day. */
  readonly unweighed: ReadonlyMap<string, FoundExpectation>;
  readonly together: readonly ShortTogether[];
  readonly borrowed: readonly BorrowedFor[];
  readonly courses: readonly ExpectedCourse[];
  /** Last day up to which all of it is as it stood in the history. */
  readonly knownUpTo: number;
  readonly history: ReadonlyMap<string, WatchHistory> | null;
}

export interface WatchOfStudyOptions {
  readonly phaseOn: (animalId: string, day: CivilDate) => string | null;
  readonly firstShown: number;
  readonly lastNumber: number;
  /** Whether seasons that are short together are looked for. */
  readonly together: boolean;
  readonly history: ReadonlyMap<string, WatchHistory> | "begin" | null;
}

/** Days before the last one from which a course is seen: three weeks with both ends. */
const courseDays = 20;
/** Progress is told after so many weighed animal-days. */
const animalDaysAStep = 25;

/** Watches every species of a study up to its last day, in steps. */
export function* watchOfStudy(study: StudySeries, o: WatchOfStudyOptions): Steps<StudyWatch> {
  const watched = new Map<number, FoundDay[]>();
  const unweighed = new Map<string, FoundExpectation>();
  const together: ShortTogether[] = [];
  const borrowed: BorrowedFor[] = [];
  const courses: ExpectedCourse[] = [];
  const next = new Map(o.history === "begin" ? [] : o.history);
  let knownUpTo = Number.POSITIVE_INFINITY;
  const bySpecies = watchedSpecies(study, { phaseOn: o.phaseOn });
  const animalDays = bySpecies.flatMap((each) => each.animals.map((a) => a.day.length));
  const total = animalDays.reduce((sum, days) => sum + days, 0);
  let done = 0;
  let told = 0;
  for (const species of bySpecies) {
    const known = o.history === "begin" ? undefined : o.history?.get(species.species);
    const go = o.history === null ? null : (known ?? "begin");
    const asked = askedOf(species, o, { unweighed, together, courses });
    const days = watchOn(go, species.animals, o.lastNumber, asked, (seen, state) => {
      const source = species.animals[seen.animal]!;
      const entry = { id: source.id, seen, state, dayOfIndex: (i: number) => source.day[i]! };
      const list = watched.get(seen.day);
      if (list === undefined) watched.set(seen.day, [entry]);
      else list.push(entry);
      done++;
    });
    let step = days.next();
    for (; !step.done; step = days.next()) {
      const tells = done - told >= animalDaysAStep;
      if (tells) told = done;
      yield tells ? { done, total, doing: `weighings of ${species.species}` } : undefined;
    }
    const watch = step.value;
    knownUpTo = Math.min(knownUpTo, watch.knownUpTo);
    if (watch.history !== null) next.set(species.species, watch.history);
    for (const season of watch.seasons) {
      const present = season.works.some(
        (w) => !(w.source.ended && w.source.ended.day < o.lastNumber),
      );
      if (present) borrowed.push({ species: species.species, ...season.borrowed });
    }
  }
  const history = o.history === null ? null : next;
  return { watched, unweighed, together, borrowed, courses, knownUpTo, history };
}

/** What is asked of the watch of one species beside the day's weighings, and where it is put. */
function askedOf(
  species: WatchedSpecies,
  o: WatchOfStudyOptions,
  to: {
    readonly unweighed: Map<string, FoundExpectation>;
    readonly together: ShortTogether[];
    readonly courses: ExpectedCourse[];
  },
): WatchOptions {
  const seeGroup = (group: WatchedGroup) => {
    const found = shortTogether(species.species, group, (i) => species.animals[i]!.id);
    if (found !== null) to.together.push(found);
  };
  return {
    weakGain: species.weakGain,
    priors: species.priors,
    expectFromDay: o.firstShown,
    seeUnweighed: ({ animal, day, index, expected }: UnweighedDay, state: WatchState) => {
      const source = species.animals[animal]!;
      const found = { expected, state, lastDay: source.day[index]!, weighed: null };
      to.unweighed.set(`${source.id} ${day}`, found);
    },
    foreseeFromDay: o.lastNumber - courseDays,
    seeForeseen: (seen: Foreseen) =>
      to.courses.push(expectedCourse(species.animals[seen.animal]!.id, seen)),
    ...(o.together ? { seeGroup } : {}),
  };
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
