import type { Wording } from "../../core/wording.js";
import type { BoardLevel, DayHead } from "./board.js";
import type { PageLink } from "./page-link.js";
import type { Block } from "./section.js";

/** Twelve hours back and ahead of one animal: places from -1 over 0 (now) to 1. */
export interface ShiftRule {
  /** Feeds given: the share eaten, at least and at most. */
  readonly given: readonly { readonly at: number; readonly least: number; readonly most: number }[];
  /** Feeds whose times are ordered. */
  readonly due: readonly number[];
  /** None of them is to be given until the veterinarian has spoken. */
  readonly waits: boolean;
  /** Signs worth a mark. */
  readonly signs: readonly { readonly at: number; readonly words: string }[];
  readonly hours: readonly { readonly at: number; readonly label: string }[];
  /** Said where no feed has an ordered time. */
  readonly noTimes: string | null;
  /** The whole line in one sentence, for whoever cannot see it. */
  readonly words: string;
}

/** One animal at the change of shift. All texts are ready to read. */
export interface ShiftBand {
  readonly animalId: string;
  /** Name, id and species. */
  readonly heading: string;
  /** Dangers and questions of its orders: before everything else. */
  readonly grave: readonly string[];
  readonly level: BoardLevel;
  readonly next: {
    /** "stop": it is not to be fed, said instead of a time; "words": why there is no time. */
    readonly kind: "time" | "words" | "stop";
    /** Said largest. */
    readonly time: string;
    /** The amount as ordered; where it is not to be fed, until when. */
    readonly amount: string;
    readonly small: readonly string[];
  };
  readonly rule: ShiftRule;
  readonly changed: readonly string[];
  /** Why it stands where it stands, and what is to be done by when. */
  readonly watch: readonly string[];
  readonly acts: readonly { readonly when: string; readonly act: string }[];
  /** Orders as ordered, doubts and what was not understood: never folded. */
  readonly said: readonly { readonly title: string; readonly lines: readonly string[] }[];
  /** The last 24 hours in full, folded. */
  readonly full: readonly Block[];
}

export interface ShiftPage extends DayHead {
  readonly columns: Readonly<Record<"next" | "rule" | "changed" | "watch", string>>;
  readonly bands: readonly ShiftBand[];
  readonly whenEmpty: string;
  readonly ofOthers: { readonly title: string; readonly lines: readonly string[] } | null;
  readonly fold: string;
  readonly decide: string;
  readonly sign: readonly string[];
  readonly links: readonly PageLink[];
  readonly foot: string;
  readonly style?: string;
  /** How numbers and times inside the folded part are written. */
  readonly wording?: Wording;
}
