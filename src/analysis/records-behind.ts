import { type Notice, notice } from "../core/notice.js";
import { levelNotices } from "../flags/levels/animal-levels.js";
import { type DefaultDay, defaultDay, NEAR_MS } from "../records/default-day.js";
import type { Study } from "../records/study.js";
import type { CivilDate, StudySeries } from "../series/animal-series.js";
import { daysBetween } from "../units/calendar.js";
import type { StudyAnalysis } from "./study-analysis.js";

/** What the pages say of the records behind the answers. */
export function recordsOf(
  study: Study,
  cut: Study,
  series: StudySeries,
  at: {
    readonly onDay: CivilDate;
    readonly end: DefaultDay;
    readonly now: number | undefined;
    readonly missing: readonly Notice[];
  },
): StudyAnalysis["records"] {
  const { onDay, end, now, missing } = at;
  const isNow = tellsOfNow(onDay, end, now);
  return {
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
      ...aboutDay(onDay, end, now !== undefined && !isNow),
      // Limits, instructions and answers that would never be used are said on every page.
      ...levelNotices(series).filter((n) => n.level === "problem"),
    ],
  };
}

/** How many weighings were used, and how many were not, by why. */
export function basisOf(study: Study, cut: Study) {
  const leftOut = [
    {
      reason: "weighings set aside when reading",
      count: study.setAside.filter((row) => row.table === "weighings").length,
    },
    {
      reason: "weighings after the day looked at",
      count: study.tables.weighings.length - cut.tables.weighings.length,
    },
  ];
  return {
    used: cut.tables.weighings.length,
    of: "weighings",
    leftOut: leftOut.filter((each) => each.count > 0),
  };
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

/** Tables without which some answers cannot be given. */
export function whatIsMissing(study: Study): Notice[] {
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
