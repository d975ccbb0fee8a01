import { type Notice, notice } from "../../core/notice.js";
import { addDays, feedingDayOf, feedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import type { AnimalAnalysis } from "../study-analysis.js";
import type { RivalExplanation } from "./explanation.js";
import { leadD, type SlowGainerCase } from "./slow-gainer-case.js";

/**
 * Did something happen to several animals in these days? What is shared is said
 * first; what was written of cold, heat, outage, illness in the group, feeders,
 * milk and places stands beside it and is not weighed against each other.
 */
export function sharedCause(c: SlowGainerCase): RivalExplanation {
  const bare = { rival: "shared cause", ask: [] } as const;
  const { fell, judged, shared } = c.fall;
  const written = writtenOf(c);
  const p = { animal: c.animal.animalId, n: fell.length, of: judged, others: fell, from: c.from };
  const them = notice(
    judged < 2 ? "rival-shared-few" : fell.length > 0 ? "rival-shared-fell" : "rival-shared-none",
    shared ? "problem" : "info",
    p,
  );
  const slow = c.deficit.slow === "slow" || c.deficit.slow === "loses";
  if (shared) {
    return {
      ...bare,
      verdict: slow ? "likely" : "possible",
      speaksFor: [them, ...written],
      speaksAgainst: [],
      ask: [notice("rival-shared-ask", "caution", { animal: c.animal.animalId })],
      weight: Math.min(1, fell.length / judged),
    };
  }
  if (written.length > 0) {
    return {
      ...bare,
      verdict: "possible",
      speaksFor: written,
      speaksAgainst: judged < 2 ? [] : [them],
      weight: judged < 2 ? 0.4 : 0.2,
    };
  }
  return {
    ...bare,
    verdict: judged < 2 ? "cannot be told" : "speaks against",
    speaksFor: [],
    speaksAgainst: judged < 2 ? [] : [them],
    ask: judged < 2 ? [them] : [],
    weight: 0,
  };
}

/** What was written that touches more than one animal: events, moves, a new diet. */
function writtenOf(c: SlowGainerCase): Notice[] {
  const { zone, feedingDayStartHour } = c.analysis.settings;
  const { from } = feedingDaySpan(addDays(c.from, -leadD), zone, feedingDayStartHour);
  const { to } = feedingDaySpan(c.to, zone, feedingDayStartHour);
  const events = c.analysis.series.events
    .filter((e) => e.at < to && (e.to ?? e.at) >= from)
    .map((e) =>
      notice("rival-shared-event", "caution", {
        at: e.at,
        kind: e.kind,
        notes: e.notes ?? "",
      }),
    );
  const moved = c.housing
    .filter((h) => h.animalId === c.animal.animalId && h.from >= from && h.from < to)
    .map((h) => notice("rival-shared-moved", "info", { at: h.from, place: h.place }));
  return [...events, ...moved, ...milk(c, from)];
}

/** A diet first fed to this animal and to another in these days. */
function milk(c: SlowGainerCase, from: number): Notice[] {
  const { zone, feedingDayStartHour } = c.analysis.settings;
  const firstFed = (a: AnimalAnalysis) => {
    const first = new Map<string, number>();
    for (const f of a.series.feeds)
      if (f.dietId !== null && !first.has(f.dietId)) first.set(f.dietId, f.at);
    return first;
  };
  const begin = c.animal.series.feeds[0]?.at ?? 0;
  return [...firstFed(c.animal)].flatMap(([diet, at]) => {
    if (at < from || at === begin) return [];
    const too = c.analysis.animals.filter(
      (a) => a !== c.animal && a.inCare && Math.abs((firstFed(a).get(diet) ?? 0) - at) < 3 * dayMs,
    );
    if (too.length === 0) return [];
    return [
      notice("rival-shared-diet", "info", {
        diet,
        day: feedingDayOf(at, zone, feedingDayStartHour),
        others: too.map((a) => a.animalId),
      }),
    ];
  });
}
