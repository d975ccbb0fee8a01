import type { Measured } from "../../core/measured.js";
import type { Notice } from "../../core/notice.js";

/** Everything a rule can say about one animal on one day. */
export type SignalKind =
  | "level"
  | "gain"
  | "slowed gain"
  | "surprise average"
  | "surprise sum"
  | "loss from peak"
  | "acute loss"
  | "loss"
  | "no gain"
  | "intake below plan"
  | "intake below habit"
  | "refusals"
  | "feed gap"
  | "conversion"
  | "temperature"
  | "no stool"
  | "no urine"
  | "scales disagree"
  | "too-fast gain"
  | "intake above plan"
  | "intake above limit";

/**
 * "statistical": its false flags are counted against the number the user chose.
 * "danger": a single observation that stands outside that budget.
 * "practice": a rule of common practice with an editable limit, also outside it.
 */
export type SignalClass = "statistical" | "danger" | "practice";

export interface Signal {
  readonly kind: SignalKind;
  readonly class: SignalClass;
  readonly direction: "low" | "high";
  readonly raised: boolean;
  /** Deviation over threshold: 1 at the threshold, 1.5 half as large again. */
  readonly strength: number;
  readonly value: Measured;
  /** In the unit of `value`. */
  readonly threshold: number;
  /** The numbers behind it, by name; names end in their unit. */
  readonly evidence: Readonly<Record<string, number | string | null>>;
  readonly sentence: Notice;
}
