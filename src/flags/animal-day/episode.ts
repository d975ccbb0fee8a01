import type { CivilDate } from "../../series/animal-series.js";
import type { SignalKind } from "./signal.js";

/** One run of trouble of one animal: many signals and days, one entry in the list. */
export interface Episode {
  readonly animalId: string;
  readonly openedOn: CivilDate;
  /** Null while it is open. */
  readonly closedOn: CivilDate | null;
  /** True where it was still open when the animal's record ended (left care, or died). */
  readonly endedWithRecord?: true;
  /** What opened it: weighings against the budget, or a rule that stands outside. */
  readonly openedBy: "statistical" | "rule";
  readonly signals: readonly EpisodeSignal[];
  readonly acknowledged: Acknowledged | null;
  /** Days on which it came back after being acknowledged, and why. */
  readonly reopened: readonly {
    readonly on: CivilDate;
    readonly why: "new signal" | "half as large again";
  }[];
}

export interface EpisodeSignal {
  readonly kind: SignalKind;
  readonly firstOn: CivilDate;
  readonly lastOn: CivilDate;
  readonly greatestStrength: number;
}

/** A note by a person, kept beside the records; it silences nothing that gets worse. */
export interface Acknowledgement {
  readonly animalId: string;
  readonly on: CivilDate;
  readonly by: string | null;
  readonly note: string;
}

export interface Acknowledged extends Acknowledgement {
  /** Strengths when it was acknowledged: half as large again reopens it. */
  readonly strengths: Readonly<Record<string, number>>;
}
