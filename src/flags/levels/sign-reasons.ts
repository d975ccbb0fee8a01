import { notice } from "../../core/notice.js";
import type { SignAlert } from "../../rates/sign-alerts.js";
import type { Instant } from "../../series/animal-series.js";
import { mayBePresent, type Sign } from "../../series/signs/sign.js";
import { signKindOf } from "../../series/signs/sign-table.js";
import { dayMs } from "../../units/day-ms.js";
import { hourMs } from "../../units/hour-ms.js";
import type { LevelReason, ReasonSize } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { makeReason } from "./make-reason.js";

/**
 * What the signs of the last 24 h raise, each kind once: its gravest line, or the
 * newest among equals. Its size is how often it was raised in those 24 h, of glucose
 * the value. After anything that came up, or bloat however slight, suggestions wait
 * or are capped elsewhere; what is ordered stands.
 */
export function signReasons(c: LevelCase): LevelReason[] {
  const kinds = new Map<string, SignAlert[]>();
  for (const alert of c.alerts) {
    // A line that could not be read is about temperature elsewhere.
    const key = `${alert.level} ${alert.what}`;
    kinds.set(key, [...(kinds.get(key) ?? []), alert]);
  }
  const found = [...kinds.values()].map((own) => {
    // What forbids the next feed is not lifted by a later line that does not.
    const last = own.filter((a) => a.act === "do not feed until spoken").at(-1) ?? own.at(-1)!;
    return makeReason({
      level: last.level,
      what: last.what,
      sentence: last.sentence,
      at: own[0]!.at,
      act: last.act,
      byAt: last.level === "danger" ? c.at : null,
      size: last.what === "glucose" ? glucoseSize(c, own) : timesOf(own),
      suggestionsWait: last.level === "danger" || bloated(c.series.signs, c.at),
    });
  });
  return [...found, ...cameUpTwice(c), ...unread(c)];
}

/** A line that counts as its worse meaning and cannot be read stands word for word beside that. */
function unread(c: LevelCase): LevelReason[] {
  const asked = c.series.signs.filter(
    (s) =>
      s.at > c.at - dayMs &&
      s.question !== null &&
      signKindOf(s.kind).looksIfUnread === true &&
      !c.alerts.some((a) => a.sentence === s.question),
  );
  return asked.map((s) =>
    makeReason({ level: "second look", what: "entry not read", sentence: s.question!, at: s.at }),
  );
}

/** Vomit and regurgitation within hours are more than one of each: which it was is hard to tell. */
function cameUpTwice(c: LevelCase): LevelReason[] {
  const { vomits, vomitsWithinH } = c.limits;
  if (vomits === null || c.alerts.some((a) => a.what === "repeated vomit")) return [];
  const is = (s: Sign, kind: "vomit" | "regurgitation") =>
    s.kind === kind ? mayBePresent(s) : s.findings.includes(kind);
  const lines = c.series.signs.filter(
    (s) => s.at > c.at - dayMs && (is(s, "vomit") || is(s, "regurgitation")),
  );
  for (const last of [...lines].reverse()) {
    const run = lines.filter((s) => s.at <= last.at && s.at >= last.at - vomitsWithinH * hourMs);
    const n = run.reduce((sum, s) => sum + (s.count ?? 1), 0);
    if (n < vomits || !run.some((s) => is(s, "vomit"))) continue;
    const parameters = { animal: c.series.animal.animalId, n, hours: vomitsWithinH, at: last.at };
    return [
      makeReason({
        level: "danger",
        what: "repeated vomit",
        sentence: notice("level-vomit-and-regurgitation", "problem", parameters),
        at: run[0]!.at,
        act: "do not feed until spoken",
        byAt: c.at,
        size: { value: lines.length, unit: "lines", outwards: "higher", step: 1 },
      }),
    ];
  }
  return [];
}

const timesOf = (own: readonly SignAlert[]): ReasonSize => ({
  value: own.length,
  unit: "lines",
  outwards: "higher",
  step: 1,
});

/** The value furthest out of the last 24 h; ten per cent of it is a step. */
function glucoseSize(c: LevelCase, own: readonly SignAlert[]): ReasonSize {
  const raised = new Set(own.map((a) => a.at));
  const values = c.series.signs.flatMap((s) =>
    s.kind === "glucose" && s.measure !== null && raised.has(s.at) ? [s.measure] : [],
  );
  const lowest = Math.min(...values.map((m) => m.low));
  const highest = Math.max(...values.map((m) => m.high));
  const look = c.limits.glucoseLook;
  const isLow = look === null || look[0] - lowest > highest - look[1];
  const value = isLow ? lowest : highest;
  return { value, unit: "mg/dL", outwards: isLow ? "lower" : "higher", step: 0.1 * value };
}

/** Bloat in the last 24 h, one that has settled included. */
function bloated(signs: readonly Sign[], at: Instant): boolean {
  return signs.some(
    (s) =>
      s.at > at - dayMs && (s.kind === "bloat" ? mayBePresent(s) : s.findings.includes("bloat")),
  );
}
