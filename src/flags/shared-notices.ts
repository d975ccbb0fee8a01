import { type Notice, notice } from "../core/notice.js";
import { type BatchAway, batchesAway } from "../rates/batch-energy.js";
import type { CivilDate, StudySeries } from "../series/animal-series.js";
import { addDays, feedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { scaleSteps } from "./scale-steps.js";

/** What was written of several animals is said for so long after it ended. */
const afterEventMs = 2 * dayMs;

/** A step this many days old is still asked about, as long as nobody checked the scale. */
const recentD = 7;

/**
 * What touches several animals on a day, whatever their levels: what was written of
 * them together (heat, cold, an outage, other milk), a step of everything
 * weighed on one scale that no passed check has answered, which asks for a known
 * weight and a look at every animal, and batches fed that day that are more than 10 %
 * away from their diet or do not add up, with who ate how much.
 */
export function sharedNotices(study: StudySeries, day: CivilDate): readonly Notice[] {
  const { from, to } = feedingDaySpan(day, study.settings.zone, study.settings.feedingDayStartHour);
  const steps = scaleSteps(study, { until: to })
    .filter((s) => s.day > addDays(day, -recentD) && s.check !== "passed")
    .flatMap((s) => [
      notice("shared-scale-step", "problem", {
        scale: s.scale,
        day: s.day,
        pct: Math.abs(s.pct),
        low: s.pct < 0,
        n: s.animals.length,
        of: s.judged,
        failed: s.check === "failed",
      }),
      notice("rival-scale-check", "problem", { scale: s.scale }),
    ]);
  const events = study.events
    .filter((e) => e.scope !== "animal" && e.at < to && (e.to ?? e.at) >= from - afterEventMs)
    .map(({ at, kind, notes }) =>
      notice("shared-event", "caution", { at, kind, notes: notes ?? "" }),
    );
  return [...events, ...steps, ...batchesAway(study, { from: day, to: day }).map(batchNotice)];
}

function batchNotice(b: BatchAway): Notice {
  const by = b.eatenBy.map((e) => {
    const low = Math.round(e.eatenLowG);
    const high = Math.round(e.eatenHighG);
    return `${e.animalId} ${low === high ? low : `${low} to ${high}`} g`;
  });
  if (b.awayPct === null)
    return notice("shared-batch-not-added-up", "problem", {
      batch: b.batchId,
      diet: b.dietId,
      weighed: b.weighedG,
      whole: b.wholeG,
      by,
    });
  return notice("shared-batch-away", b.awayPct < 0 ? "problem" : "caution", {
    batch: b.batchId,
    diet: b.dietId,
    pct: Math.abs(b.awayPct),
    less: b.awayPct < 0,
    kcal: b.kcalPerG,
    meant: b.dietKcalPerG,
    from: b.from,
    by,
  });
}
