import type { AnswerRow, Instant } from "../../series/animal-series.js";
import { dayMs } from "../../units/day-ms.js";
import { type Answer, type LevelReason, levelOrder } from "./level.js";

/** Longest time for which an answer holds, days: a danger, and anything else. */
const capD = { danger: 1, other: 7 } as const;

/**
 * Puts the answers of people to the reasons they name. An answer holds from when it was
 * given to its end (24 h at most for a danger, else 7 days), and lapses when another
 * reason of equal or higher level begins after it, or when what it answers has moved
 * further out than its step since. Nothing else about any reason changes.
 *
 * @param then the reasons as they stood at an instant, for what an answer was given to.
 * @example answeredReasons(reasons, answers, at, then)[0].answered?.by // "Tor"
 */
export function answeredReasons(
  reasons: readonly LevelReason[],
  answers: readonly AnswerRow[],
  at: Instant,
  then: (at: Instant) => readonly LevelReason[],
): LevelReason[] {
  return reasons.map((reason) => {
    const own = answers
      .filter((row) => sameName(row.reason, reason.what) && row.at <= at)
      .sort((a, b) => b.at - a.at);
    for (const row of own) {
      const until = Math.min(row.until, row.at + capOf(reason) * dayMs);
      if (at >= until) continue;
      if (lapsed(reason, row, reasons, then)) continue;
      const answered: Answer = { by: row.by, at: row.at, until, note: row.note, row };
      return { ...reason, answered };
    }
    return reason;
  });
}

const capOf = (reason: LevelReason) => (reason.level === "danger" ? capD.danger : capD.other);

/** What the day's list of flags and people call a reason, where that is another name than its own. */
const alsoCalled: Readonly<Record<string, readonly string[]>> = {
  temperature: ["cold", "hot"],
  "low temperature": ["cold"],
  hypothermia: ["cold"],
  "high temperature": ["hot"],
  fever: ["hot"],
  hyperthermia: ["hot"],
  "acute loss": ["loss"],
  "low glucose": ["glucose"],
  hypoglycaemia: ["glucose"],
  vomit: ["repeated vomit"],
  "not eating": ["no feed", "missed feed"],
  seizure: ["convulsion"],
};

/** Names are compared without case; spaces, hyphens and underscores are one. */
export function sameName(written: string, name: string): boolean {
  const plain = (text: string) =>
    text
      .trim()
      .toLowerCase()
      .replace(/[\s_-]+/g, " ");
  const own = plain(written);
  return own === plain(name) || (alsoCalled[own]?.includes(name) ?? false);
}

function lapsed(
  reason: LevelReason,
  row: AnswerRow,
  reasons: readonly LevelReason[],
  then: (at: Instant) => readonly LevelReason[],
): boolean {
  const rank = (r: LevelReason) => levelOrder.indexOf(r.level);
  const another = reasons.some(
    (other) => other.what !== reason.what && rank(other) <= rank(reason) && other.at > row.at,
  );
  if (another) return true;
  const before = then(row.at).find((r) => r.what === reason.what) ?? null;
  // What began after it, or stands higher than when it was answered, nobody has answered.
  if (before === null || rank(reason) < rank(before)) return true;
  if (reason.size === null || before.size === null) return false;
  const moved =
    reason.size.outwards === "higher"
      ? reason.size.value - before.size.value
      : before.size.value - reason.size.value;
  return moved >= before.size.step - 1e-9;
}
