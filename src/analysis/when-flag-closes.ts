import {
  closedEpisode,
  defaultEpisodeRule,
  nextEpisodeState,
} from "../flags/animal-day/episode-rule.js";
import { judgedSignals } from "../flags/animal-day/judged-signals.js";
import { replayFlagsOn } from "../flags/replay-flags.js";
import type { ReplayHistory } from "../flags/replay-history.js";
import type { AnimalSeries, CivilDate, DailyMass } from "../series/animal-series.js";
import { addDays, daysBetween } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { courseAt, courseRows } from "./course-at.js";
import { phaseOn } from "./phase-on.js";
import type { AnimalAnalysis, StudyAnalysis } from "./study-analysis.js";

/** The course of the animal that is tried. */
export interface CourseTried {
  readonly levelG: number;
  /** Gain of ln mass per day. */
  readonly slope: number;
  readonly aheadD: number;
}

export interface FlagCloses {
  /** Gain of ln mass per day from the last weighing on that was tried. */
  readonly slope: number;
  /** First day on which the flag from weighings would be closed; null where on none of those tried. */
  readonly closesOn: CivilDate | null;
}

/**
 * Whether the flag from weighings would close within `aheadD` days, were the animal
 * weighed daily and gained evenly by `slope` (ln mass per day) from `levelG` on.
 * The flags are replayed on the study with those invented weighings added; the
 * other animals in care go on along their own course. Only signals from weighings
 * are looked at: what will be eaten and seen is not invented. Several courses part only
 * with the invented weighings, so that each goes on from where the first one's watch stood.
 *
 * @example flagCloser(analysis, animal)({ levelG: 2944, slope: 0.012, aheadD: 7 }).closesOn // null
 */
export function flagCloser(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
): (options: CourseTried) => FlagCloses {
  let history: ReplayHistory | "begin" = "begin";
  return (options) => {
    const tried = tryCourse(history, analysis, animal, options);
    history = tried.history ?? history;
    return tried.closes;
  };
}

function tryCourse(
  history: ReplayHistory | "begin",
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  { levelG, slope, aheadD }: CourseTried,
): { readonly closes: FlagCloses; readonly history: ReplayHistory | null } {
  const { onDay, settings } = analysis;
  const last = animal.last!;
  const episode = animal.day?.episode ?? null;
  const until = addDays(onDay, aheadD);
  const animals = analysis.animals
    .filter((a) => a.species === animal.species)
    .map((a): AnimalSeries => {
      const bare = {
        ...a.series,
        feeds: [],
        sharedFeeds: [],
        weighings: [],
        orders: { ...a.series.orders, lines: [], steps: [] },
      };
      if (a === animal) return carriedOn(bare, Math.log(levelG), slope, until);
      if (!a.inCare || a.last === null) return bare;
      const rows = courseRows(a);
      const course = rows.length === 0 ? null : courseAt(rows, rows.length - 1, 7);
      return course === null ? bare : carriedOn(bare, course.level, course.slope, until);
    });
  const replayed = replayFlagsOn(
    history,
    { ...analysis.series, animals },
    {
      from: episode?.openedOn ?? last.feedingDay,
      to: until,
      together: false,
      phaseOn: phaseOn(settings, analysis.animals),
    },
  );
  let state = closedEpisode;
  let closesOn: CivilDate | null = null;
  let opened = false;
  for (const day of replayed.replay.days) {
    const own = day.animals.find((a) => a.animalId === animal.animalId);
    const strengths = judgedSignals(own).flatMap((s) =>
      s.class === "statistical" ? [s.strength] : [],
    );
    if (strengths.length === 0) continue;
    state = nextEpisodeState(state, Math.max(...strengths), defaultEpisodeRule);
    if (state.open) opened = true;
    else if (opened && closesOn === null && day.onDay > onDay) closesOn = day.onDay;
  }
  return { closes: { slope, closesOn }, history: replayed.history };
}

/** The history with one invented weighing a day after its last one. */
function carriedOn(
  series: AnimalSeries,
  level: number,
  slope: number,
  until: CivilDate,
): AnimalSeries {
  const last = series.daily.at(-1)!;
  const days = daysBetween(last.feedingDay, until);
  const added = Array.from({ length: Math.max(0, days) }, (_, i): DailyMass => {
    const ahead = i + 1;
    const massG = Math.exp(level + slope * ahead);
    return {
      ...last,
      feedingDay: addDays(last.feedingDay, ahead),
      at: last.at + ahead * dayMs,
      massG,
      ageD: last.ageD === null ? null : last.ageD + ahead,
      sinceAdmissionD: last.sinceAdmissionD === null ? null : last.sinceAdmissionD + ahead,
      errorG: 0.008 * massG,
      usualCondition: true,
      nWeighings: 1,
    };
  });
  return { ...series, daily: [...series.daily, ...added] };
}
