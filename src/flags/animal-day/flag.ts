import type { Measured } from "../../core/measured.js";
import type { Notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";
import type { Episode } from "./episode.js";
import type { Signal, SignalKind } from "./signal.js";

export interface NotJudged {
  readonly kind: SignalKind;
  readonly why: Notice;
}

/**
 * What an animal was expected to weigh and to gain on a day, given its group and
 * its own weighings before that day. A number that is not defined says why.
 */
export interface ExpectedToday {
  /** Mass of a weighing that day, g, with the limits that hold 95 in 100 of them. */
  readonly mass: Measured;
  /**
   * Relative gain, %/d: the group's gain at its age and the animal's own deviation, with 95 %
   * limits and standard error; chance steps from one day to the next come on top.
   */
  readonly gain: Measured;
  /** How far the day's weighing stands from `mass`, in standard errors; not defined without one. */
  readonly surprise: Measured;
  /** The newest weighing behind it, before the day; null where nothing is expected. */
  readonly lastWeighedOn: CivilDate | null;
  readonly sentence: Notice;
}

/** One animal on one day. "Not flagged" is never a statement that it is healthy. */
export interface AnimalDay {
  readonly animalId: string;
  readonly name: string | null;
  readonly species: string;
  readonly day: CivilDate;
  readonly phase: string | null;
  readonly status: "flagged" | "not flagged" | "not judged";
  /**
   * The day of the weighing that its judgement by weighings rests on: this day, or one of the
   * last 4 whose judgement stands while it is not weighed; null where there is none.
   */
  readonly judgedOn: CivilDate | null;
  /** Orders the list: dangers first, then by strength. 0 where nothing is raised. */
  readonly severity: number;
  /** Raised signals, strongest first. */
  readonly raised: readonly Signal[];
  /** Signals that were judged and lie within their thresholds. */
  readonly within: readonly Signal[];
  readonly notJudged: readonly NotJudged[];
  /** The episode the animal is in; null when none is open. */
  readonly episode: Episode | null;
  readonly expected: ExpectedToday;
  /** One sentence on the state of the day. */
  readonly sentence: Notice;
}
