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
  /**
   * Rows that stand otherwise and are asked about one by one: above their date's day,
   * though before `until`, or behind its evening and yet the first feed of the morning.
   */
  readonly odd: readonly TimedEntry[];
}

const HALF_DAY = 12 * 60;
/** So far the clock goes back to the small hours at least, where feeds of the evening are missing. */
const TO_NIGHT = 4 * 60;
/** Until when it is night: later hours are taken for night only where a whole file says so. */
const NIGHT_ENDS = 6 * 60;
const MORNING_ENDS = 9 * 60;
/** Two feeds so near by the clock are the same feed of two days. */
const SAME_FEED = 30;

/**
 * Looks for times that go on past midnight under one date: the clock goes back
 * to the small hours, or by half a day or more to the morning. The order in which the rows of an
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
  /** What stands there and may be of the morning of this date or the next. */
  readonly mornings: readonly TimedEntry[];
  /** The earliest minute of the rest. */
  readonly first: number;
}

function nightsIn(runs: readonly DayRun[]): NightDates | null {
  const streams = inOrder(runs);
  // Without an hour after noon the clock may be one of twelve hours: then rows are asked about.
  const afternoon = runs.some((run) => run.some((e) => e.minute >= HALF_DAY + 60));
  const whole = nightsOfFile(streams, MORNING_ENDS) ?? nightsOfFile(streams, NIGHT_ENDS);
  if (whole !== null && afternoon) return whole;
  const behind = streams.flatMap((runs) =>
    doubtfulRows(runs.map((run) => pageOf(run, NIGHT_ENDS))),
  );
  return behind.length === 0 ? null : { until: null, behind, odd: [] };
}

/** Nights that one hour parts from all other rows of the file; few may stand otherwise. */
function nightsOfFile(streams: readonly DayRun[][], ends: number): NightDates | null {
  // A page of small hours alone may be of either day.
  const shown = streams
    .map((runs) =>
      runs
        .filter((run) => run.length >= 2 && run.some((e) => e.minute >= ends))
        .map((run) => pageOf(run, ends)),
    )
    .map(withoutMornings);
  const pages = shown.flat();
  const nights = pages.filter(isNight);
  if (nights.length === 0) return null;
  const late = nights.reduce((at, night) => Math.max(at, reachOf(night)), 0);
  const others = pages.filter((page) => page.first <= late);
  if (others.length > 0.1 * nights.length) return null;
  const first = pages.reduce(
    (at, p) => (p.first > late ? Math.min(at, p.first) : at),
    Number.POSITIVE_INFINITY,
  );
  // Hours of the morning are written down late in the evening, too: only a habit
  // tells, and that small hours stand before them or the day begins well after them.
  const reaching = nights.filter((night) => reachOf(night) >= NIGHT_ENDS).length;
  const among = shown.filter((own) => own.some(isNight)).flat().length;
  const small = nights.filter(({ behind }) => behind[0]!.minute < NIGHT_ENDS).length;
  const surely = first >= late + 60 || small >= 0.5 * nights.length;
  const often = Math.max(2, 0.2 * among, 0.5 * nights.length);
  if (late >= NIGHT_ENDS && !(surely && reaching >= often)) return null;
  const until = hourBetween(late, first);
  return {
    until,
    behind: nights.flatMap((night) => night.behind),
    odd: [
      ...others.flatMap(({ run, behind }) =>
        run.filter((e) => e.minute < until && !behind.includes(e)),
      ),
      ...pages.flatMap(({ mornings }) => mornings),
    ],
  };
}

/**
 * Where an animal's first feed of a day is missing above and written behind the
 * evening, the page may have been completed later: such a row is no sign of a night.
 */
function withoutMornings(pages: readonly Page[]): readonly Page[] {
  const usual = middleOf(pages.map((p) => p.run[0]!.minute));
  return pages.map((page) => {
    const late = page.behind.filter(
      (e) =>
        Math.abs(e.minute - usual) <= SAME_FEED &&
        !page.run.some((own) => own !== e && isSameFeed(own, e)),
    );
    if (late.length === 0) return page;
    const behind = page.behind.filter((e) => !late.includes(e));
    return { ...page, mornings: [...page.mornings, ...late], behind };
  });
}

const middleOf = (minutes: readonly number[]) =>
  minutes.slice().sort((a, b) => a - b)[minutes.length >> 1] ?? Number.NaN;

/** The latest minute of what stands behind a page's evening. */
const reachOf = ({ behind }: Page) => Math.max(...behind.map((e) => e.minute));

const isNight = (page: Page) => page.behind.length > 0 && reachOf(page) < page.first;

/** A whole hour between the night and the morning, as near to the morning as may be. */
function hourBetween(late: number, first: number): number {
  const ends = late < NIGHT_ENDS ? NIGHT_ENDS : MORNING_ENDS;
  const hour = first > MORNING_ENDS ? ends : Math.floor(first / 60) * 60;
  return hour > late ? hour : late + 1;
}

/** Parts a page into what stands behind its evening, before the hour `ends` and after it, and the rest. */
function pageOf(run: DayRun, ends: number): Page {
  const behind: TimedEntry[] = [];
  const mornings: TimedEntry[] = [];
  let first = Number.POSITIVE_INFINITY;
  let after = false;
  for (const [i, entry] of run.entries()) {
    after = entry.minute < MORNING_ENDS && (after || isPastMidnight(run, i));
    if (!after) first = Math.min(first, entry.minute);
    else if (entry.minute < ends) behind.push(entry);
    else mornings.push(entry);
  }
  return { run, behind, mornings, first };
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

const isPastMidnight = (run: DayRun, i: number) =>
  i > 0 && goesPastMidnight(run[i - 1]!.minute, run[i]!.minute);

/** Whether a time behind another under one date is one of the night or the morning after. */
export const goesPastMidnight = (before: number, minute: number): boolean =>
  minute < MORNING_ENDS && before - minute >= (minute < NIGHT_ENDS ? TO_NIGHT : HALF_DAY);

/** How often it goes back by more than a few minutes, otherwise than past midnight. */
const goingBackByDay = (run: DayRun) =>
  run.filter((_, i) => backAt(run, i) > SAME_FEED && !isPastMidnight(run, i)).length;

/** How often it goes past midnight more than once for each diet or kind. */
function nightsTooMany(run: DayRun): number {
  const nights = run.filter((_, i) => isPastMidnight(run, i)).length;
  return nights < 2 ? 0 : Math.max(0, nights - new Set(run.map((e) => e.kind)).size);
}

/**
 * The rows of an animal to be asked about one by one. Where its small hours
 * mostly stand under their own date, one behind the evening may have been added
 * later: it is asked about only where the next date has no such feed.
 */
function doubtfulRows(pages: readonly Page[]): TimedEntry[] {
  const nights = pages.filter(({ behind }) => behind.length > 0);
  const late = Math.max(...nights.map(reachOf));
  const own = pages.filter(({ run }) => run[0]!.minute <= late && run.length >= 2).length;
  if (own <= nights.length) return nights.flatMap((page) => [...page.behind, ...page.mornings]);
  return nights.flatMap((page) => {
    const next = pages.find((p) => isDayAfter(p, page));
    return page.behind.filter(
      (entry) =>
        !page.run.some((e) => e !== entry && e.minute === entry.minute) &&
        !next?.run.some((e) => isSameFeed(e, entry)),
    );
  });
}

const isSameFeed = (a: TimedEntry, b: TimedEntry) => Math.abs(a.minute - b.minute) <= SAME_FEED;

function isDayAfter(page: Page, before: Page): boolean {
  const [day, was] = [page.run[0]!.day, before.run[0]!.day];
  return typeof day === "number" && typeof was === "number" && day === was + 1;
}
