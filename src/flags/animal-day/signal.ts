import type { Measured } from "../../core/measured.js";
import type { Notice } from "../../core/notice.js";
import type { EvidenceByKind, SignalKind } from "./evidence.js";

export type { SignalKind } from "./evidence.js";

/**
 * "statistical": its false flags are counted against the number the user chose.
 * "danger": a single observation that stands outside that budget.
 * "practice": a rule of common practice with an editable limit, also outside it.
 */
export type SignalClass = "statistical" | "danger" | "practice";

/** What one rule found about one animal on one day, with the evidence that its kind has. */
export type Signal<Kind extends SignalKind = SignalKind> = Kind extends SignalKind
  ? SignalOf<Kind>
  : never;

export interface SignalOf<Kind extends SignalKind> {
  readonly kind: Kind;
  readonly class: SignalClass;
  readonly direction: "low" | "high";
  readonly raised: boolean;
  /** Deviation over threshold: 1 at the threshold, 1.5 half as large again. */
  readonly strength: number;
  readonly value: Measured;
  /** In the unit of `value`. */
  readonly threshold: number;
  /** The numbers behind it, by name; names end in their unit. */
  readonly evidence: EvidenceByKind[Kind];
  readonly sentence: Notice;
}
