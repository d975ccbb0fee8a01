import type { Notice } from "../core/notice.js";
import type { CivilDate, DailyMass, Instant, NetWeighing } from "../series/animal-series.js";

export interface RealOrNot {
  readonly animalId: string;
  readonly from: CivilDate;
  readonly to: CivilDate;
  /** One for each of scale, coat, meal and swap, in this order. */
  readonly answers: readonly RealAnswer[];
  readonly conclusion: Notice;
}

/** One thing that would make a slow gainer out of a healthy one, answered from the records. */
export interface RealAnswer {
  readonly question: "scale" | "coat" | "meal" | "swap";
  /** "found": the records show it; "not found": they speak against it. */
  readonly verdict: "found" | "not found" | "cannot be told";
  readonly sentences: readonly Notice[];
  readonly evidence: Readonly<Record<string, number | string | null>>;
}

/** The days looked at, and the weighings that stand for them. */
export interface RecordWindow {
  readonly from: Instant;
  readonly to: Instant;
  readonly standing: readonly NetWeighing[];
  readonly daily: readonly DailyMass[];
}
