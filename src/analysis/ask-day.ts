import type { Result } from "../core/result.js";
import { levelNotices } from "../flags/levels/animal-levels.js";
import { type AnimalLevel, mostConcernFirst } from "../flags/levels/level.js";
import { planShift, type ShiftPlan } from "../planning/plan-shift.js";
import { defaultDay, NEAR_MS } from "../records/default-day.js";
import type { Study } from "../records/study.js";
import type { CivilDate } from "../series/animal-series.js";
import { feedingDaySpan } from "../units/calendar.js";
import { type AnalyseOptions, analyse } from "./analyse.js";
import { changeOfShift } from "./change-of-shift.js";
import { levelsOfDay } from "./levels-of-day.js";
import type { StudyAnalysis } from "./study-analysis.js";

/** What the day's page and the hand-over need, worked out once. */
export interface DayAnswer {
  readonly analysis: Result<"analyse", StudyAnalysis>;
  /** What the coming shift has to give; null where nobody is in care. */
  readonly shift: ShiftPlan | null;
  /** Where each animal of the day's pages stands at the change of shift, with its act and reasons; the most concern first. */
  readonly levels: readonly AnimalLevel[];
}

export interface AskDayOptions extends AnalyseOptions {
  /** An analysis of the same study and day that is there already. */
  readonly analysis?: Result<"analyse", StudyAnalysis>;
}

/**
 * The day: who gains how, which animal needs a second look and why, and what the
 * coming shift has to give. Nothing recorded after the day is read.
 *
 * @throws UsageError for a day that is none, or a study without a weighing by then.
 * @example (await askDay(await readStudy("data-demo"))).value.shift?.animals.length // 0 to all in care
 */
export async function askDay(
  study: Study,
  options: AskDayOptions = {},
): Promise<Result<"ask-day", DayAnswer>> {
  const analysis = options.analysis ?? (await analyse(study, options));
  const { series, onDay, settings, animals } = analysis.value;
  // Somebody for whom nothing but an order is written still stands on the pages.
  const dayEnd = feedingDaySpan(onDay, settings.zone, settings.feedingDayStartHour).to - 1;
  const until = changeOfShift(analysis.value) ?? dayEnd;
  const levels = [
    ...levelsOfDay(analysis.value, {
      at: until,
      ...(tellsOfNow(study, onDay, options.now) ? { now: options.now! } : {}),
    }),
  ].sort(mostConcernFirst);
  const shift = animals.some((a) => a.inCare) ? planShift(series, { until, levels }) : null;
  return {
    kind: "ask-day",
    schema: 1,
    value: { analysis, shift, levels },
    method: analysis.method,
    basis: analysis.basis,
    diagnostics: {},
    notices: [...analysis.notices, ...levelNotices(series)],
  };
}

/**
 * Whether the page is about the day in which one lives. A page of an earlier day, and
 * one of records that ended long ago, tell how things stood then.
 */
function tellsOfNow(study: Study, onDay: CivilDate, now: number | undefined): boolean {
  if (now === undefined) return false;
  const end = defaultDay(study, { now });
  if (end.day === null || end.at === null || onDay > end.day) return true;
  return onDay === end.day && now - end.at <= NEAR_MS;
}
