import { notice } from "../../core/notice.js";
import { isSurelyPresent } from "../../series/signs/sign.js";
import { feedingDayOf } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import { excretionSignal } from "../rules/excretion-signal.js";
import type { LevelReason } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { makeReason } from "./make-reason.js";

/**
 * No stool or no urine: unwritten for so many hours in the very young where such lines
 * are written regularly; and, of urine at every age, written as none for so many hours
 * with none between that was there.
 */
export function excretionReasons(c: LevelCase): LevelReason[] {
  const none = urineNone(c);
  return [
    ...unwritten(c, "stool"),
    ...(none.length > 0 ? none : unwritten(c, "urine")),
    ...neverWritten(c),
  ];
}

/** A very young newcomer of which neither was ever written, where that cannot be judged: look. */
function neverWritten(c: LevelCase): LevelReason[] {
  const { animalId, admittedAt } = c.series.animal;
  if (admittedAt === null || !c.veryYoung) return [];
  const hours = (c.heard - admittedAt) / hourMs;
  const limits = { stool: c.limits.stoolH, urine: c.limits.urineH };
  const kinds = (["stool", "urine"] as const).filter((kind) => {
    const seen = c.prepared.excretedAt[kind].length > 0;
    const judged = "raised" in (signalOf(c, kind) ?? {});
    const limit = limits[kind];
    return !seen && !judged && limit !== null && hours >= limit && hours < limit + 7 * 24;
  });
  if (kinds.length === 0) return [];
  return [
    makeReason({
      level: "measure first",
      what: "no output written",
      sentence: notice("level-no-output", "caution", { animal: animalId, hours, kinds }),
      at: admittedAt,
      byAt: c.nextFeedAt ?? c.at,
    }),
  ];
}

/** Whether the absence of both can be told for this animal. */
export function excretionIsJudged(c: LevelCase): boolean {
  return (["stool", "urine"] as const).every((kind) => "raised" in (signalOf(c, kind) ?? {}));
}

function signalOf(c: LevelCase, kind: "stool" | "urine") {
  const { zone, feedingDayStartHour: startHour } = c.settings;
  const day = feedingDayOf(c.at, zone, startHour);
  const span = { day, from: c.at - dayMs, to: c.at + 1, hours: 24 };
  const written = { ...c.written, until: () => c.heard };
  return excretionSignal(c.prepared, day, span, c.ageD, kind, written, c.limits)[0];
}

function unwritten(c: LevelCase, kind: "stool" | "urine"): LevelReason[] {
  const found = signalOf(c, kind);
  if (found === undefined || !("raised" in found) || !found.raised) return [];
  if (found.kind !== "no stool" && found.kind !== "no urine") return [];
  const { hours, lastAt, admittedAt } = found.evidence;
  return [
    makeReason({
      level: "danger",
      what: found.kind,
      sentence: found.sentence,
      at: lastAt ?? admittedAt ?? c.at - hours * hourMs,
      act: "call now, feed as ordered",
      byAt: c.at,
      size: { value: hours, unit: "h", outwards: "higher", step: 12 },
    }),
  ];
}

function urineNone(c: LevelCase): LevelReason[] {
  const limit = c.limits.urineNoneH;
  if (limit === null) return [];
  const lines = c.series.signs.filter((s) => s.kind === "urine");
  let since = -1;
  for (const [i, s] of lines.entries()) if (isSurelyPresent(s)) since = i;
  const nones = lines.slice(since + 1).filter((s) => s.state === "none");
  const from = nones[0]?.at;
  const last = nones.at(-1);
  if (from === undefined || last === undefined || last.at <= c.at - 2 * dayMs) return [];
  const hours = (last.at - (lines[since]?.at ?? from)) / hourMs;
  if (hours < limit || nones.length < 2) return [];
  const parameters = { animal: c.series.animal.animalId, hours, times: nones.length, at: last.at };
  return [
    makeReason({
      level: "danger",
      what: "no urine",
      sentence: notice("level-urine-none", "problem", parameters),
      at: from,
      act: "call now, feed as ordered",
      byAt: c.at,
      size: { value: nones.length, unit: "lines", outwards: "higher", step: 1 },
    }),
  ];
}
