import type { AnimalLevel } from "../../flags/levels/level.js";
import type { AnimalShift, DueFeed } from "../../planning/plan-shift.js";
import { formatTime, localText } from "../../units/format-date.js";
import { say } from "../section/say.js";
import type { ShiftBand } from "../section/shift.js";
import { notToBeFed } from "./not-to-be-fed.js";

/**
 * What a hand-over says largest of an animal: the next feed as ordered, or, where
 * a danger forbids it, that it is not to be fed; the order then stands beneath,
 * as one that waits.
 */
export function nextFeed(
  plan: AnimalShift | null,
  level: AnimalLevel,
  until: number,
  zone: string,
): ShiftBand["next"] {
  const ordered = orderedNext(plan, level, until, zone);
  if (!notToBeFed(level) || plan?.order.state === "nothing by mouth") return ordered;
  const waits = plan?.order.state === "ordered";
  const what = `${ordered.time} ${ordered.amount}`.trim();
  return {
    kind: "stop",
    time: say("shift-stop"),
    amount: say("shift-stop-until"),
    small: waits ? [say("shift-waits", { what })] : [ordered.time],
  };
}

function orderedNext(
  plan: AnimalShift | null,
  level: AnimalLevel,
  until: number,
  zone: string,
): ShiftBand["next"] {
  const state = plan?.order.state ?? "no order";
  if (plan === null || state === "no order") return untimed(say("shift-no-order"));
  if (state === "nothing by mouth") return { ...untimed(say("shift-nil")), kind: "stop" };
  const next = soonest(plan.due);
  const first = beforeFeed(plan, level);
  if (next === undefined && !plan.order.timesOpen)
    return { ...untimed(say("shift-nothing-due")), small: first };
  if (next === undefined) {
    const { lines, usual } = plan.order;
    const now = localText(until, zone).slice(11);
    const times = [...usual.times].sort();
    const at = times.find((t) => t > now) ?? times[0];
    return {
      ...untimed(say("shift-times-not-ordered")),
      amount: (lines.length === 1 ? lines[0]?.words : undefined) ?? say("shift-as-written"),
      small: [...(at === undefined ? [] : [say("shift-usual", { at })]), ...first],
    };
  }
  const together = plan.due.filter((f) => f.at === next.at);
  return {
    kind: "time",
    time: formatTime(next.at, zone),
    amount: together.map((f) => `${f.amount} ${f.dietId ?? ""}`.trim()).join(" + "),
    small: first,
  };
}

/** The feed that comes first. */
export const soonest = <T extends Pick<DueFeed, "at">>(due: readonly T[]): T | undefined =>
  [...due].sort((a, b) => a.at - b.at)[0];

const untimed = (time: string) => ({ kind: "words", time, amount: "", small: [] }) as const;

/** What is to be done before the feed, where anything is; the whole of it stands under "watch". */
function beforeFeed(plan: AnimalShift, level: AnimalLevel): readonly string[] {
  if (level.act === "call now, feed as ordered") return [say("shift-call-first")];
  if (level.act === "go and look now") return [say("shift-look-first")];
  if (plan.hold.length === 0) return [];
  const open = level.reasons.filter((r) => r.answered === null);
  const asks = open.some((r) => r.what === "feed in doubt") || open.length === 0;
  return [say(level.level === "measure first" && !asks ? "shift-measure-first" : "shift-doubted")];
}
