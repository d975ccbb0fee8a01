import type { Measured } from "../../core/measured.js";
import type { Notice } from "../../core/notice.js";
import type { CivilDate } from "../../series/animal-series.js";

/** Everything that may stand behind a slow gain. A new rival is one file and one line in `rival-explanations`. */
export type RivalName =
  | "scale"
  | "weighing condition"
  | "swap"
  | "small but healthy"
  | "fed less than ordered"
  | "ordered too little"
  | "kept less"
  | "thin batch"
  | "converts poorly or loses"
  | "illness signs"
  | "shared cause";

/**
 * "likely": the records show it, and it is large enough for what is missing.
 * "possible": something speaks for it, and it is too little, too old or too
 * uncertain to rest on. "speaks against": the records of these days speak
 * against it. "cannot be told": what would tell was not written.
 */
export type RivalVerdict = "likely" | "possible" | "speaks against" | "cannot be told";

/** One rival explanation with what speaks for it and against it, in sentences. */
export interface RivalExplanation {
  readonly rival: RivalName;
  readonly verdict: RivalVerdict;
  readonly speaksFor: readonly Notice[];
  readonly speaksAgainst: readonly Notice[];
  /** What would tell, or what is to be done first; empty where nothing is asked. */
  readonly ask: readonly Notice[];
  /** Orders rivals of one verdict: 0 to 1, how much of what is missing it covers or how clear it is. */
  readonly weight: number;
}

/** What is asked of the animal: whether there is anything to explain. */
export type SlowVerdict = "loses" | "slow" | "not slow" | "cannot be told";

/**
 * The one number for each quantity of the page. All over the same days and
 * against the same contemporaries.
 */
export interface SlowGainQuantities {
  /** Own gain over the window, g/d. */
  readonly gain: Measured;
  /** Own gain over the fortnight before the window, g/d. */
  readonly gainBefore: Measured;
  /** What was expected of it over the same days, g/d. */
  readonly expectedGain: Measured;
  /** Grams missing over the window: expected less own, against contemporaries; without three of them against its own earlier gain. */
  readonly missing: Measured;
  /** Energy kept a day, kcal; a range where a refusal or what came up is not known. */
  readonly keptKcalPerD: Measured;
  /** Energy that its contemporaries keep a day at its size, kcal. */
  readonly expectedKcalPerD: Measured;
  /** Eaten of what was ordered, %; a range where a refusal is not known. */
  readonly eatenOfOrderedPct: Measured;
  /** Came up of what was eaten, %; a range where it was not weighed. */
  readonly cameUpPct: Measured;
}

/** Why one animal may gain slowly: rivals with their standing, and what is said of them in short. */
export interface RivalExplanations {
  readonly animalId: string;
  /** The days that every number speaks of; `to` is the day looked at. */
  readonly from: CivilDate;
  readonly to: CivilDate;
  readonly days: number;
  readonly contemporaries: readonly string[];
  readonly slow: SlowVerdict;
  readonly quantities: SlowGainQuantities;
  /** All rivals, the leading ones first. */
  readonly rivals: readonly RivalExplanation[];
  /** How it gains and what was expected, in one sentence: the same on the board, at the hand-over and on its page. */
  readonly gain: Notice;
  /** The answer in one sentence. */
  readonly headline: Notice;
  /** The sentences of "in short": the headline, what is shared, the leading rivals, what is asked first. */
  readonly inShort: readonly Notice[];
}
