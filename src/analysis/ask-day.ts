import type { Result } from "../core/result.js";
import { levelNotices } from "../flags/levels/animal-levels.js";
import { type AnimalLevel, mostConcernFirst } from "../flags/levels/level.js";
import { planShift, type ShiftPlan } from "../planning/plan-shift.js";
import type { Study } from "../records/study.js";
import { type AnalyseOptions, analyse } from "./analyse.js";
import { instantOfDay } from "./change-of-shift.js";
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
  const { series, records, animals } = analysis.value;
  const until = instantOfDay(analysis.value);
  const levels = [
    ...levelsOfDay(analysis.value, {
      at: until,
      ...(records.tellsOfNow && options.now !== undefined ? { now: options.now } : {}),
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
