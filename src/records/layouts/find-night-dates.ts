import { type DayRun, dayRuns, goingBack, type TimedEntry } from "./day-runs.js";

/** Small hours that seem to stand under the date of the evening before. */
export interface NightDates {
  /**
   * The hour (minutes) that parts them from the mornings of the whole file; null
   * where none does, or where others of the file stand under their own date.
   */
  readonly until: number | null;
  /** The rows that stand behind the evening of their date. */
  readonly behind: readonly TimedEntry[];
  /** Rows before `until` that stand above their date's day: perhaps under their own date. */
  readonly above: readonly TimedEntry[];
}

const HALF_DAY = 12 * 60;
/** Until when it is night: later hours are taken for night only where a whole file says so. */
const NIGHT_ENDS = 6 * 60;
const MORNING_ENDS = 9 * 60;
/** Two feeds so near by the clock are the same feed of two days. */
const SAME_FEED = 30;

/**
 * Looks for times that go on past midnight under one date: the clock goes back
 * by half a day or more, to the small hours. The order in which the rows of an
 * animal stand tells, so that one animal fed at night among many, and one night
 * among many, are seen; rows in no order of time tell nothing. Null where none is found.
 */
export function findNightDates(entries: readonly TimedEntry[]): NightDates | null {
  const runs = dayRuns(entries);
  if (!runs.some((run) => goingBack(run).length > 0)) return null;
  const byAnimal = nightsIn(runs);
  if (byAnimal !== null) return byAnimal;
  // A sheet in the order of diets or of kinds is in the order of time within each.
  return nightsIn(
    dayRuns(entries.map((e) => ({ ...e, whose: JSON.stringify([e.whose, e.kind ?? ""]) }))),
  );
}

interface Page {
  readonly run: DayRun;
  /** What stands behind the evening; empty on most pages. */
  readonly behind: readonly TimedEntry[];
  readonly first: number;
}

function nightsIn(runs: readonly DayRun[]): NightDates | null {
  const streams = inOrder(runs);
  const whole = nightsOfFile(streams, MORNING_ENDS) ?? nightsOfFile(streams, NIGHT_ENDS);
  if (whole !== null) return whole;
  const behind = streams.flatMap((runs) =>
    doubtfulRows(runs.map((run) => pageOf(run, NIGHT_ENDS))),
  );
  return behind.length === 0 ? null : { until: null, behind, above: [] };
}

/** Nights that one hour parts from all other rows of the file; few may stand otherwise. */
function nightsOfFile(streams: readonly DayRun[][], ends: number): NightDates | null {
  // A page of small hours alone may be of either day.
  const shown = streams.map((runs) =>
    runs
      .filter((run) => run.length >= 2 && run.some((e) => e.minute >= ends))
      .map((run) => pageOf(run, ends)),
  );
  const pages = shown.flat();
  const nights = pages.filter(isNight);
  if (nights.length === 0) return null;
  const late = nights.reduce((at, { behind }) => Math.max(at, ...minutesOf(behind)), 0);
  const others = pages.filter((page) => page.first <= late);
  if (others.length > 0.1 * nights.length) return null;
  const first = pages.reduce(
    (at, p) => (p.first > late ? Math.min(at, p.first) : at),
    Number.POSITIVE_INFINITY,
  );
  // Hours of the morning are written down late in the evening, too: only a habit
  // tells, and that the day begins well after them.
  const among = shown.filter((own) => own.some(isNight)).flat().length;
  const habit = nights.length >= 2 && nights.length >= 0.2 * among && first >= late + 60;
  if (late >= NIGHT_ENDS && !habit) return null;
  const until = hourBetween(late, first);
  return {
    until,
    behind: nights.flatMap((night) => night.behind),
    above: others.flatMap(({ run, behind }) =>
      run.filter((e) => e.minute < until && !behind.includes(e)),
    ),
  };
}

const minutesOf = (entries: readonly TimedEntry[]) => entries.map((e) => e.minute);

const isNight = ({ behind, first }: Page) =>
  behind.length > 0 && Math.max(...minutesOf(behind)) < first;

/** A whole hour between the night and the morning, as near to the morning as may be. */
function hourBetween(late: number, first: number): number {
  const ends = late < NIGHT_ENDS ? NIGHT_ENDS : MORNING_ENDS;
  const hour = first > MORNING_ENDS ? ends : Math.floor(first / 60) * 60;
  return hour > late ? hour : late + 1;
}

/** Parts a page into what stands behind its evening, before the hour `ends`, and the rest. */
function pageOf(run: DayRun, ends: number): Page {
  const behind: TimedEntry[] = [];
  let first = Number.POSITIVE_INFINITY;
  let after = false;
  for (const [i, entry] of run.entries()) {
    after = entry.minute < ends && (after || backAt(run, i) >= HALF_DAY);
    if (after) behind.push(entry);
    else first = Math.min(first, entry.minute);
  }
  return { run, behind, first };
}

/** The pages of each animal, of those whose rows stand in the order of time. */
function inOrder(runs: readonly DayRun[]): DayRun[][] {
  const streams = new Map<string, DayRun[]>();
  for (const run of runs) {
    const own = streams.get(run[0]!.whose);
    if (own === undefined) streams.set(run[0]!.whose, [run]);
    else own.push(run);
  }
  return [...streams.values()].filter((own) => {
    const back = own.filter((run, i) => i > 0 && run[0]!.day < own[i - 1]![0]!.day).length;
    const steps = own.reduce((sum, run) => sum + run.length - 1, 0);
    const late = own.reduce((sum, run) => sum + goingBackByDay(run), 0);
    const more = own.reduce((sum, run) => sum + nightsTooMany(run), 0);
    // In no order every second step goes back; a few rows may have been added later.
    return back + more <= 1 + 0.1 * own.length && late <= 1 + 0.25 * steps;
  });
}

/** How far the clock goes back at an entry of a page; 0 at its first. */
const backAt = (run: DayRun, i: number) => (i === 0 ? 0 : run[i - 1]!.minute - run[i]!.minute);

/** How often it goes back by more than a few minutes, otherwise than past midnight. */
const goingBackByDay = (run: DayRun) =>
  run.filter((_, i) => backAt(run, i) > SAME_FEED && backAt(run, i) < HALF_DAY).length;

/** How often it goes past midnight more than once for each diet or kind. */
function nightsTooMany(run: DayRun): number {
  const nights = run.filter((_, i) => backAt(run, i) >= HALF_DAY).length;
  return nights < 2 ? 0 : Math.max(0, nights - new Set(run.map((e) => e.kind)).size);
}

/**
 * The rows of an animal to be asked about one by one. Where its small hours
 * mostly stand under their own date, one behind the evening may have been added
 * later: it is asked about only where the next date has no such feed.
 */
function doubtfulRows(pages: readonly Page[]): TimedEntry[] {
  const own = pages.filter(({ run }) => run[0]!.minute < NIGHT_ENDS && run.length >= 2).length;
  const nights = pages.filter(({ behind }) => behind.length > 0);
  if (own <= nights.length) return nights.flatMap(({ behind }) => behind);
  return nights.flatMap(({ run, behind }) => {
    const next = pages.find((page) => isDayAfter(page.run[0]!.day, run[0]!.day));
    return behind.filter(
      (entry) =>
        !run.some((e) => e !== entry && e.minute === entry.minute) &&
        !next?.run.some((e) => Math.abs(e.minute - entry.minute) <= SAME_FEED),
    );
  });
}

const isDayAfter = (day: string | number, before: string | number) =>
  typeof day === "number" && typeof before === "number" && day === before + 1;
