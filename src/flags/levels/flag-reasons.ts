import { feedingDaySpan } from "../../units/calendar.js";
import type { SignalKind } from "../animal-day/signal.js";
import type { LevelReason } from "./level.js";
import type { LevelCase } from "./level-case.js";
import { makeReason } from "./make-reason.js";

/** Kinds that the levels judge themselves, at an instant and not by the day. */
const judgedHere: ReadonlySet<SignalKind> = new Set<SignalKind>([
  "acute loss",
  "loss",
  "no feed",
  "missed feed",
  "temperature",
  "no stool",
  "no urine",
  "signs",
  "entry not read",
  "glucose",
  "repeated vomit",
  "bloat",
  "blood",
  "convulsion",
  "cannot be roused",
  "not suckling",
  "trouble breathing",
  "dehydrated",
  "watery stool",
]);

/**
 * What the day's list raises beside: signals from the weighings and rules of common
 * practice ask for a second look; so does an episode that is still open. A danger of
 * the day that the levels did not find themselves stands as one: two rules never
 * disagree downwards.
 */
export function flagReasons(c: LevelCase, own: readonly LevelReason[]): LevelReason[] {
  const { day } = c;
  if (day === null) return [];
  const { zone, feedingDayStartHour } = c.settings;
  const at = Math.min(c.at, feedingDaySpan(day.day, zone, feedingDayStartHour).to);
  const found = day.raised.flatMap((signal): LevelReason[] => {
    if (judgedHere.has(signal.kind)) return [];
    return [
      makeReason({
        level: signal.class === "danger" ? "danger" : "second look",
        what: signal.kind,
        sentence: signal.sentence,
        at,
        size: {
          value: signal.strength,
          unit: "times the threshold",
          outwards: "higher",
          step: 0.5,
        },
      }),
    ];
  });
  const isOpen = day.episode !== null && found.length === 0 && own.length === 0;
  const open = isOpen
    ? [makeReason({ level: "second look", what: "episode open", sentence: day.sentence, at })]
    : [];
  return [...found, ...open];
}
