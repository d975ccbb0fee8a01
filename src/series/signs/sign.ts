import type { Notice } from "../../core/notice.js";
import type { Instant, ObservationKind, ObservationRow } from "../../records/study.js";

/**
 * What one line of the observations means. "none": looked, and there was none (of
 * behaviour, suckle and hydration: nothing wrong); "not looked": the line itself
 * says that nobody looked; "unclear": it cannot be read.
 */
export type SignState = "present" | "none" | "not looked" | "unclear";

/** What a line says beside its own kind; read in every line, the notes included. */
export type Finding =
  | "blood"
  | "cannot be roused"
  | "not suckling"
  | "convulsion"
  | "trouble breathing"
  | "dehydrated"
  | "vomit"
  | "regurgitation"
  | "bloat"
  | "slightly dehydrated"
  | "lethargic"
  | "weak"
  | "weak suckle"
  | "not eating"
  | "shivering"
  | "watery stool"
  | "soft stool"
  | "hard stool"
  | "foul stool"
  | "mucus"
  | "constipated"
  | "straining"
  | "settled"
  | "treatment of illness"
  | "routine";

/** A number with what it may be: `low` and `high` differ where several readings are possible. */
export interface SignMeasure {
  readonly low: number;
  readonly high: number;
  /** The kind's own unit, e.g. "degC"; null where a scale was not named. */
  readonly unit: string | null;
}

/** A body temperature or glucose that stands in a note or an exam, and in no line of its own. */
export interface MeasuredInWords {
  readonly kind: "temperature" | "glucose";
  readonly measure: SignMeasure;
}

export interface Sign {
  readonly kind: ObservationKind;
  readonly at: Instant;
  readonly row: ObservationRow;
  /** Value, unit and notes, word for word. */
  readonly written: string;
  readonly state: SignState;
  /** False while its meaning is in doubt: danger then uses the worse admissible one. */
  readonly sure: boolean;
  readonly measure: SignMeasure | null;
  /** Of how many events the line speaks; null where it gives no number. */
  readonly count: number | null;
  /** How much came, where it was measured. */
  readonly amount: { readonly value: number; readonly unit: "g" | "mL" } | null;
  readonly findings: readonly Finding[];
  /** Of free words: body temperatures and glucose that stand in them; absent where none does. */
  readonly saidInWords?: readonly MeasuredInWords[];
  /** What is to be asked about the line; null where nothing is. */
  readonly question: Notice | null;
}

/** Present, or not to be ruled out: a doubt never lowers a level. */
export function mayBePresent(sign: Sign): boolean {
  return sign.state === "present" || sign.state === "unclear";
}

/** Present for sure: what may be taken as good news, such as a stool that was passed. */
export function isSurelyPresent(sign: Sign): boolean {
  return sign.state === "present" && sign.sure;
}

/** The number a sign gives for sure; null while it is in doubt. */
export function sureValue(sign: Sign): number | null {
  const { measure, sure } = sign;
  return measure !== null && sure && measure.low === measure.high ? measure.low : null;
}
