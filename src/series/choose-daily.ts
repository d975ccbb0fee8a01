import { notice } from "../core/notice.js";
import { toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { DailyMass, NetWeighing, StudySettings } from "./animal-series.js";
import { conditionOf, weighingError } from "./condition.js";
import { slipNotice } from "./find-slips.js";

/**
 * Decides which weighing stands for each feeding day: the one in the animal's
 * usual condition (dry, before a meal), nearest its usual clock time, ties to
 * the earliest. Where none is in the usual condition, one where nothing was
 * noted goes before one known to be damp, wet or after a meal, and the day's
 * value carries a larger stated error. A suspected slip never stands for a day;
 * the others stay visible.
 */
export function chooseDaily(
  weighings: readonly NetWeighing[],
  settings: StudySettings,
  impossible: (w: NetWeighing) => boolean = () => false,
): { readonly weighings: NetWeighing[]; readonly daily: DailyMass[] } {
  const usualClock = usualClockTime(weighings, settings.zone);
  const days = new Map<string, NetWeighing[]>();
  for (const w of weighings) {
    if (w.netG === null || w.slip !== null || impossible(w)) continue;
    const list = days.get(w.feedingDay);
    if (list === undefined) days.set(w.feedingDay, [w]);
    else list.push(w);
  }
  const chosen = new Set<NetWeighing>();
  const daily: DailyMass[] = [];
  for (const [feedingDay, list] of days) {
    const best = list.reduce((a, b) => (better(b, a, usualClock, settings.zone) ? b : a));
    chosen.add(best);
    daily.push({
      feedingDay,
      at: best.at,
      massG: best.netG!,
      ageD: best.ageD,
      sinceAdmissionD: best.sinceAdmissionD,
      errorG: weighingError(best.row, best.netG!, settings),
      usualCondition: conditionOf(best.row) === "usual",
      nWeighings: list.length,
    });
  }
  daily.sort((a, b) => a.at - b.at);
  return {
    daily,
    weighings: weighings.map((w) => ({ ...w, ...standingOf(w, chosen, days, impossible) })),
  };
}

const rank = { usual: 0, "not told": 1, unusual: 2 } as const;

function better(a: NetWeighing, b: NetWeighing, usualClock: number, zone: string): boolean {
  const byCondition = rank[conditionOf(a.row)] - rank[conditionOf(b.row)];
  if (byCondition !== 0) return byCondition < 0;
  const byClock = clockDistance(a.at, usualClock, zone) - clockDistance(b.at, usualClock, zone);
  if (byClock !== 0) return byClock < 0;
  return a.at < b.at;
}

/** The clock time from which the usual-condition weighings are least far in sum, ms. */
function usualClockTime(weighings: readonly NetWeighing[], zone: string): number {
  const usable = weighings.filter((w) => w.netG !== null && w.slip === null);
  const lowest = Math.min(...usable.map((w) => rank[conditionOf(w.row)]));
  const times = usable
    .filter((w) => rank[conditionOf(w.row)] === lowest)
    .map((w) => clockOf(w.at, zone))
    .sort((a, b) => a - b);
  // A median on the circle: cut it at the widest gap between neighbours.
  let cut = 0;
  let widest = times.length === 0 ? 0 : times[0]! + dayMs - times.at(-1)!;
  for (let i = 1; i < times.length; i++) {
    if (times[i]! - times[i - 1]! > widest) {
      widest = times[i]! - times[i - 1]!;
      cut = i;
    }
  }
  const opened = [...times.slice(cut), ...times.slice(0, cut).map((t) => t + dayMs)];
  return (opened[(opened.length - 1) >> 1] ?? 0) % dayMs;
}

const clockOf = (at: number, zone: string) => ((toLocal(at, zone) % dayMs) + dayMs) % dayMs;

function clockDistance(at: number, clock: number, zone: string): number {
  const d = Math.abs(clockOf(at, zone) - clock);
  return Math.min(d, dayMs - d);
}

function standingOf(
  w: NetWeighing,
  chosen: ReadonlySet<NetWeighing>,
  days: ReadonlyMap<string, readonly NetWeighing[]>,
  impossible: (w: NetWeighing) => boolean,
): Pick<NetWeighing, "standing" | "why"> {
  if (w.slip !== null)
    return { standing: "suspected slip", why: slipNotice(w.slip, w.netG ?? w.row.massG) };
  if (w.decision?.decision === "leave out")
    return { standing: "shown only", why: notice("series-left-out", "info", decided(w.decision)) };
  if (impossible(w))
    return { standing: "shown only", why: notice("series-mass-impossible", "problem") };
  if (w.netG === null)
    return {
      standing: "shown only",
      why: notice(w.row.tareG === null ? "series-tare-blank" : "series-tare-not-below", "caution"),
    };
  const n = days.get(w.feedingDay)?.length ?? 0;
  const condition = conditionOf(w.row);
  if (!chosen.has(w)) return { standing: "shown only", why: notice("series-other-stands", "info") };
  if (w.decision !== undefined)
    return {
      standing: "stands for the day",
      why: notice("series-stands-as-decided", "info", decided(w.decision)),
    };
  const code =
    n === 1
      ? "series-only-weighing"
      : condition === "usual"
        ? "series-usual-condition"
        : "series-best-of-unusual";
  return { standing: "stands for the day", why: notice(code, "info", { n, condition }) };
}

const decided = (d: NonNullable<NetWeighing["decision"]>) => ({
  by: d.decidedBy,
  on: d.decidedOn,
  why: d.why,
  decision: d.decision,
});
