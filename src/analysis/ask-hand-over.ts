import type { Result } from "../core/result.js";
import type { Study } from "../records/study.js";
import { type AskDayOptions, askDay, type DayAnswer } from "./ask-day.js";

/**
 * The hand-over: the day without growth curves, which take most of the time and
 * are not shown at the change of shift.
 *
 * @example (await askHandOver(await readStudy("data-demo"))).value.shift?.animals.length
 */
export async function askHandOver(
  study: Study,
  options: AskDayOptions = {},
): Promise<Result<"ask-hand-over", DayAnswer>> {
  const day = await askDay(study, { ...options, curves: [] });
  return { ...day, kind: "ask-hand-over" };
}
