import type { AnimalLevel, Answer, LevelReason } from "../../flags/levels/level.js";
import { dayMs } from "../../units/day-ms.js";
import { formatTime, localText, wordedDate } from "../../units/format-date.js";
import { say } from "../section/say.js";
import { notToBeFed } from "./not-to-be-fed.js";

/** One thing to do: by when, and what. */
export interface NextAct {
  readonly when: string;
  readonly act: string;
}

/**
 * What is to be done about an animal: the act of the gravest reason that nobody
 * has answered, and what must be measured or asked beside it, each once.
 */
export function nextActs(level: AnimalLevel, zone: string): readonly NextAct[] {
  const open = level.reasons.filter((r) => r.answered === null);
  const unfed = open.some(notToBeFed);
  const acts = open
    // Whoever forbids the next feed is asked already; "feed as ordered" would contradict it.
    .filter((r) => !unfed || r.act !== "call now, feed as ordered")
    .map((r) => ({ when: whenWords(r, level.at, zone), act: actWords(r, unfed) }));
  const seen = new Set<string>();
  const each = acts.filter(({ act }) => !seen.has(act) && seen.add(act));
  if (each.length > 0) return each;
  const ends = level.reasons.flatMap((r) =>
    r.answered !== null && r.level === "danger" ? [r.answered.until] : [],
  );
  return ends.length === 0
    ? [{ when: "", act: say("act-usual") }]
    : [{ when: byWords(Math.min(...ends), level.at, zone), act: say("act-answer-ends") }];
}

/** By when; where a reason names no hour, what its level asks for. */
function whenWords({ byAt, level }: LevelReason, now: number, zone: string): string {
  if (byAt !== null) return byWords(byAt, now, zone);
  if (level === "danger") return say("act-now");
  if (level === "second look") return say("act-today");
  return level === "measure first" ? say("act-before-feed") : "";
}

/** "Now:", "By 18:00:", "By 21 Apr 06:30:". */
export function byWords(byAt: number | null, now: number, zone: string): string {
  if (byAt === null) return "";
  if (byAt <= now) return say("act-now");
  const text = localText(byAt, zone);
  const sameDay = text.slice(0, 10) === localText(now, zone).slice(0, 10);
  return say("act-by", { at: sameDay ? formatTime(byAt, zone) : wordedDate(text) });
}

/** When something was: within the last 24 hours the time alone, else with its date. */
export function momentWords(at: number, now: number, zone: string): string {
  return now - at < dayMs && at <= now ? formatTime(at, zone) : wordedDate(localText(at, zone));
}

function actWords({ act, what }: LevelReason, unfed: boolean): string {
  switch (act) {
    case "do not feed until spoken":
      return say("act-do-not-feed");
    case "call now, feed as ordered":
      return say("act-call");
    case "go and look now":
      return say("act-go-and-look");
    case null:
      break;
  }
  switch (what) {
    case "temperature first":
      return say(unfed ? "act-temperature-unfed" : "act-temperature");
    case "temperature in doubt":
      return say("act-temperature-again");
    case "weigh first":
    case "mass in doubt":
      return say(unfed ? "act-weigh-unfed" : "act-weigh-again");
    case "feed in doubt":
      return say("act-ask-feed");
    case "no order":
      return say("act-ask-order");
    case "records end":
      return say("act-go-and-look");
    default:
      return say("act-show");
  }
}

/** By whom a reason was answered, and until when that holds. */
export function answeredWords(answered: Answer, zone: string): string {
  const { by, at, until, note } = answered;
  return say("level-answered", { by, at, until, note }, zone);
}
