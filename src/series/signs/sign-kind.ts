import type { ObservationKind } from "../../records/study.js";
import type { Finding } from "./sign.js";

/** A unit of a measured kind: how it is written and how it turns into the kind's own unit. */
export interface SignUnit {
  readonly name: string;
  readonly spellings: readonly string[];
  /** own = (written + shift) x scale. */
  readonly scale: number;
  readonly shift?: number;
  /** Taken only where it is written, never for a bare number. */
  readonly onlyWritten?: true;
}

/** How a kind that is a number is read. */
export interface SignMeasuring {
  /** The kind's own unit. */
  readonly own: string;
  /** The first stands where nobody wrote a unit and none fits better. */
  readonly units: readonly SignUnit[];
  /** Outside, no animal has such a value: a slip, or another unit. Own unit. */
  readonly possible: readonly [number, number];
  /** Outside, even a unit written beside it is doubted where another fits. Default: possible. */
  readonly credible?: readonly [number, number];
  /** Where values lie on nearly every page; tells which of two units fits better. Own unit. */
  readonly usual: readonly [number, number];
  /** Words instead of a number: below what the instrument shows, or above. */
  readonly low: readonly string[];
  readonly high: readonly string[];
}

/** Words that say something of the animal; `unseen`: they do not show that anything came. */
export interface FindingWords {
  readonly finding: Finding;
  readonly says: readonly string[];
  readonly unseen?: true;
}

/** Good words and what their denial says; `here`: only in lines of this kind. */
export interface WellWords {
  readonly says: readonly string[];
  readonly denied: Finding | null;
  readonly here?: true;
}

/**
 * One kind of sign as data: everything that is accepted for it. Words are lower
 * case; phrases of several words are allowed; hyphens count as spaces.
 */
export interface SignKind {
  readonly kind: ObservationKind;
  /**
   * "measured": a number; "event": something that happened or not; "excretion": the
   * same, and its absence matters; "state": how the animal is; "treatment": something
   * given; "free": words that are shown as they stand.
   */
  readonly holds: "measured" | "event" | "excretion" | "state" | "treatment" | "free";
  /** The kind's own name in a line: "no vomit", "vomited twice". */
  readonly itself: readonly string[];
  /** Words that here mean looked, none, beside everybody's words; states have good words instead. */
  readonly none: readonly string[];
  /** Of a state: what a bare "none" or "no" says; absent, it cannot be read. */
  readonly noneMeans?: Finding;
  /** Words that here mean it was there, and say how. */
  readonly present: readonly string[];
  /** Good words and what their denial says: "not suckling". */
  readonly well?: readonly WellWords[];
  /** What such words say, in a line of any kind. */
  readonly findings: readonly FindingWords[];
  /** The same, only in lines of this kind. */
  readonly ownFindings?: readonly FindingWords[];
  readonly measuring?: SignMeasuring;
  /** What a percentage says, from the lowest on: of hydration the fluid that is missing. */
  readonly percent?: readonly { readonly from: number; readonly finding: Finding | null }[];
  /** Whether a line that cannot be read asks somebody to look at the animal. */
  readonly looksIfUnread?: boolean;
}
