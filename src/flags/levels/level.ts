import type { Notice } from "../../core/notice.js";
import type { DangerAct } from "../../rates/sign-limits.js";
import type { AnswerRow, Instant } from "../../series/animal-series.js";
import type { SignalKind } from "../animal-day/signal.js";

/** How much an animal asks for at an instant, the gravest first. */
export type Level = "danger" | "second look" | "measure first" | "not judged" | "nothing raised";

/** What somebody is to do at once; a silence asks to go and look. */
export type LevelAct = DangerAct | "go and look now";

/**
 * What a reason is about: the name of a sign or of a rule where the flags have one,
 * else one of these. The veterinarian's standing instructions and the answers of
 * people name a reason by it.
 */
export type LevelWhat =
  | SignalKind
  | "cold"
  | "hot"
  | "feed far above bounds"
  | "fed while nothing by mouth"
  | "silence"
  | "no output written"
  | "temperature first"
  | "temperature trend"
  | "temperature in doubt"
  | "weigh first"
  | "mass in doubt"
  | "feed in doubt"
  | "no order"
  | "episode open"
  | "records end";

/** Names of reasons that are no danger. */
export const otherReasons: readonly LevelWhat[] = [
  "missed feed",
  "no output written",
  "temperature first",
  "temperature trend",
  "temperature in doubt",
  "weigh first",
  "mass in doubt",
  "feed in doubt",
  "no order",
  "episode open",
  "records end",
  "signs",
  "entry not read",
  "level",
  "gain",
  "slowed gain",
  "too-fast gain",
  "surprise average",
  "surprise sum",
  "loss from peak",
  "no gain",
  "outside mass band",
  "eaten below plan",
  "eaten above plan",
  "eaten below habit",
  "eaten above limit",
  "refusals",
  "conversion",
  "scales disagree",
];

/** How far out a reason lies, so that it can be told whether it has moved further. */
export interface ReasonSize {
  readonly value: number;
  readonly unit: string;
  readonly outwards: "higher" | "lower";
  /** Moved so far outwards, an answer no longer holds. */
  readonly step: number;
}

/** Somebody has answered a reason; it stays visible, and its end is written. */
export interface Answer {
  readonly by: string | null;
  readonly at: Instant;
  /** As written, and no later than the cap of its level. */
  readonly until: Instant;
  readonly note: string | null;
  readonly row: AnswerRow;
}

/** One thing that stands against an animal at an instant. */
export interface LevelReason {
  readonly level: Exclude<Level, "nothing raised">;
  readonly what: LevelWhat;
  readonly sentence: Notice;
  /** When it was written or began. */
  readonly at: Instant;
  readonly act: LevelAct | null;
  /** By when something is to be done; null where nothing is due. */
  readonly byAt: Instant | null;
  /** Null where nothing is counted or measured. */
  readonly size: ReasonSize | null;
  /** Suggested amounts wait while it stands, answered or not; what is ordered never does. */
  readonly suggestionsWait: boolean;
  readonly answered: Answer | null;
  /** The veterinarian's words for it, from study.json, word for word. */
  readonly standingInstruction: string | null;
}

/** What can be checked of an animal at any time. */
export type LevelCheck =
  | "temperature"
  | "signs"
  | "stool and urine"
  | "feeds"
  | "mass"
  | "mass against what is expected";

/** Where one animal stands at an instant, and why. "Nothing raised" is no statement of health. */
export interface AnimalLevel {
  readonly animalId: string;
  readonly name: string | null;
  readonly at: Instant;
  readonly level: Level;
  /** Of the gravest reason that nobody has answered. */
  readonly act: LevelAct | null;
  /** Gravest first, the answered ones after those that are open. */
  readonly reasons: readonly LevelReason[];
  readonly checks: {
    readonly possible: number;
    readonly of: number;
    readonly missing: readonly LevelCheck[];
  };
  /** Whom to call, from study.json, word for word. */
  readonly call: string | null;
}

export const levelOrder: readonly Level[] = [
  "danger",
  "second look",
  "measure first",
  "not judged",
  "nothing raised",
];

const acts: readonly (LevelAct | null)[] = [
  "do not feed until spoken",
  "call now, feed as ordered",
  "go and look now",
  null,
];

/** Animals in the order in which pages show them: the most concern first, then by name. */
export function mostConcernFirst(a: AnimalLevel, b: AnimalLevel): number {
  const name = (l: AnimalLevel) => l.name ?? l.animalId;
  return (
    levelOrder.indexOf(a.level) - levelOrder.indexOf(b.level) ||
    acts.indexOf(a.act) - acts.indexOf(b.act) ||
    (name(a) < name(b) ? -1 : name(a) > name(b) ? 1 : 0)
  );
}

/** The gravest first: level, then act, then the newest. */
export function gravestFirst(a: LevelReason, b: LevelReason): number {
  return (
    levelOrder.indexOf(a.level) - levelOrder.indexOf(b.level) ||
    acts.indexOf(a.act) - acts.indexOf(b.act) ||
    b.at - a.at
  );
}
