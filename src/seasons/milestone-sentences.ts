import { type Notice, notice } from "../core/notice.js";
import type { MilestoneDescription } from "./milestone-description.js";
import { LEAST_EVENTS } from "./milestone-model.js";
import type { MilestoneTime } from "./milestone-times.js";

/** With fewer animals under observation than this, a stretch of the curve is said to rest on few. */
const few = 5;

/** What the description of a milestone says in words, in reading order. */
export function milestoneSentences(
  found: Omit<MilestoneDescription, "sentences" | "restrictedMean">,
  level: number,
): Notice[] {
  const { milestone, species, n, seen, times, died, left, groups } = found;
  const base = { milestone, species, n, events: seen };
  const early = earlyRisk(times);
  const out: Notice[] = [
    seen === 0
      ? notice("milestone-none-seen", "info", base)
      : notice("milestone-median", "info", {
          ...base,
          from: found.median?.from ?? null,
          to: found.median?.to ?? null,
          low: found.medianInterval?.lower ?? null,
          high: found.medianInterval?.upper ?? null,
          level,
          exact: times.every((t) => t.by === null || t.by === t.after),
        }),
  ];
  if (died + left > 0) out.push(notice("milestone-competing", "caution", { died, left }));
  if (!found.turnbull.converged) out.push(notice("milestone-no-maximum", "caution"));
  if (early !== null && seen > 0 && times.some((t) => t.by !== null && t.after < early))
    out.push(notice("milestone-early-risk", "caution", { day: early, few }));
  if (groups?.p != null) {
    const differ = groups.p < 1 - level;
    out.push(
      notice(differ ? "milestone-groups-differ" : "milestone-groups-not-shown", "info", {
        p: groups.p,
      }),
    );
    const looks = groups.betweenLooks.p;
    if (looks === null && differ)
      out.push(notice("milestone-looks-say-nothing", "caution", { p: groups.p }));
    if (looks !== null && looks < 1 - level !== differ)
      out.push(notice("milestone-tests-disagree", "caution", { p: groups.p, looks }));
  }
  if (found.model === null && seen > 0 && seen < LEAST_EVENTS)
    out.push(notice("milestone-few-events", "info", { ...base, needed: LEAST_EVENTS }));
  if (species === "sea otter" && /release|long-term/i.test(milestone))
    out.push(notice("milestone-otter-release-context", "caution"));
  return out;
}

/** The first day on which enough animals are under observation; null when from the start. */
function earlyRisk(times: readonly MilestoneTime[]): number | null {
  const entries = times.map((t) => t.entered).sort((a, b) => a - b);
  return entries[few - 1] ?? null;
}
