import type { Chart } from "../../charts/chart.js";
import { weaningChart } from "../../charts/weaning-chart.js";
import type { Result } from "../../core/result.js";
import type { WeaningProgress } from "../../planning/weaning-progress.js";
import { formatDate } from "../../units/format-date.js";
import { say } from "../section/say.js";
import { withMethod } from "../section/with-method.js";

/** One animal's way from formula to solids. */
export function weaningPicture(
  name: string,
  progress: Result<"weaning-progress", WeaningProgress>,
): Chart {
  const { days, state, daysToWeaned, stalledSince, begunOn } = progress.value;
  const weanedPct = progress.method.options["weanedPct"];
  const left = daysToWeaned.value;
  const answer =
    state === "stalled"
      ? say("picture-weaning-stalled", {
          since: stalledSince === null ? "an unknown day" : formatDate(stalledSince),
        })
      : state === "under way" && left !== null
        ? say("picture-weaning-left", {
            days: left,
            from: daysToWeaned.interval?.lower ?? left,
            to: daysToWeaned.interval?.upper ?? null,
          })
        : state;
  const chart = weaningChart({
    name,
    weanedPct: typeof weanedPct === "number" ? weanedPct : 95,
    answer,
    days: days.map((d) => ({
      day: d.feedingDay,
      share: d.sharePct,
      low: d.low,
      high: d.high,
      // The curve is fitted from the first solid on and shown no earlier.
      curve: begunOn === null || d.feedingDay < begunOn ? null : d.curvePct,
    })),
  });
  return withMethod(chart, "weaning");
}
