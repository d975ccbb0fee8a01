import type { Notice } from "../core/notice.js";
import type { CivilDate, DailyMass, Instant, NetWeighing } from "../series/animal-series.js";

export interface RealOrNot {
  readonly animalId: string;
  readonly from: CivilDate;
  readonly to: CivilDate;
  /** One for each of scale, coat, meal and swap, in this order. */
  readonly answers: readonly RealAnswer[];
  readonly conclusion: Notice;
  /** What looking again and again does to the answer. */
  readonly repeatedLooks: Notice;
}

/** One thing that would make a slow gainer out of a healthy one, answered from the records. */
export type RealAnswer<Question extends keyof EvidenceByQuestion = keyof EvidenceByQuestion> =
  Question extends keyof EvidenceByQuestion ? RealAnswerTo<Question> : never;

interface RealAnswerTo<Question extends keyof EvidenceByQuestion> {
  readonly question: Question;
  /** "found": the records show it; "not found": they speak against it. */
  readonly verdict: "found" | "not found" | "cannot be told";
  readonly sentences: readonly Notice[];
  readonly evidence: EvidenceByQuestion[Question];
}

/** The counts and gains behind each answer. */
export interface EvidenceByQuestion {
  readonly scale: ScaleEvidence;
  readonly coat: CoatEvidence;
  readonly meal: MealEvidence;
  readonly swap: SwapEvidence;
}

export interface ScaleEvidence {
  /** Weighings in the window, where none of them names its scale. */
  readonly weighings?: number;
  /** Each scale that was used, its known-weight checks in the window and how many of them failed. */
  readonly scales: readonly {
    readonly scale: string;
    readonly checks: number;
    readonly failed: number;
  }[];
}

/** The gain with and without the weighings in question, where both were asked. */
interface GainsCompared {
  readonly gainAllGPerD?: number | null;
  readonly gainWithoutGPerD?: number | null;
}

export interface CoatEvidence extends GainsCompared {
  readonly weighings: number;
  readonly notTold: number;
  readonly dampOrWet: number;
}

export interface MealEvidence extends GainsCompared {
  readonly weighings: number;
  readonly notTold: number;
  readonly afterMeal: number;
  readonly hoursSinceFeedEarly: number | null;
  readonly hoursSinceFeedLate: number | null;
  readonly usualFeedG: number | null;
}

export interface SwapEvidence {
  readonly suspected: number;
  readonly compared: number;
  /** The animal whose weighings come nearest, and the misfit as written and exchanged. */
  readonly nearest?: string;
  readonly asWritten?: number;
  readonly exchanged?: number;
}

/** The days looked at, and the weighings that stand for them. */
export interface RecordWindow {
  readonly from: Instant;
  readonly to: Instant;
  readonly standing: readonly NetWeighing[];
  readonly daily: readonly DailyMass[];
}

/** Grams missing since a day. */
export interface Shortfall {
  readonly grams: number;
  readonly since: CivilDate;
}
