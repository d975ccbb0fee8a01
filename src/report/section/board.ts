import type { Level } from "../../flags/levels/level.js";
import type { PageLink } from "./page-link.js";

/** How much concern an animal stands under; shape and word, colour comes third. */
export type BoardLevel = Level;

/** Masses of three weeks: days counted from the first one shown. */
export interface MassMark {
  readonly days: number;
  readonly points: readonly { readonly day: number; readonly massG: number }[];
  /** Expected of a weighing: limits that hold 95 in 100. */
  readonly expected: readonly {
    readonly day: number;
    readonly massG: number;
    readonly lowG: number;
    readonly highG: number;
  }[];
  /** The newest reading where it is in doubt: drawn open, and no line leads to it. */
  readonly doubted: { readonly day: number; readonly massG: number } | null;
}

/** A gain with its interval beside those of its contemporaries, %/d. */
export interface GainMark {
  readonly value: number;
  readonly low: number | null;
  readonly high: number | null;
  /** Between which nine in ten contemporaries lie; null where each is drawn. */
  readonly nineInTen: readonly [number, number] | null;
  readonly others: readonly number[];
}

/** The axis that all gains of a page share, %/d. */
export interface GainAxis {
  readonly from: number;
  readonly to: number;
  readonly ticks: readonly number[];
}

/** What was eaten as a share of what was ordered, %; a range where refusals are not known. */
export interface EatenMark {
  readonly lowPct: number;
  readonly highPct: number;
}

/** The newest temperature on its limits, °C. */
export interface TemperatureMark {
  readonly low: number;
  readonly high: number;
  readonly limits: readonly [number, number];
}

/** One cell with a mark: the drawing, what stands under it, and a line in small print. */
export interface BoardCell<Mark> {
  readonly mark: Mark | null;
  readonly value: string;
  readonly small: readonly string[];
}

/** One animal's line. All texts are ready to read. */
export interface BoardRow {
  readonly animalId: string;
  readonly name: string | null;
  /** Its own page; null where none is written. */
  readonly href: string | null;
  /** Species and sex; age and phase. */
  readonly facts: readonly string[];
  readonly level: BoardLevel;
  /** Why it stands here: the first in one plain sentence, then what must not be folded. */
  readonly why: readonly string[];
  /** What is to be done, and by when. */
  readonly next: readonly { readonly when: string; readonly act: string }[];
  readonly mass: BoardCell<MassMark>;
  readonly gain: BoardCell<GainMark>;
  readonly eaten: BoardCell<EatenMark>;
  readonly signs: BoardCell<TemperatureMark>;
}

/** Something due within the coming hours, on the graduated line. */
export interface BoardDue {
  /** Place on the line: 0 now, 1 its end. */
  readonly at: number;
  readonly when: string;
  readonly level: BoardLevel;
  readonly who: string;
  readonly what: string;
}

/** How a page of the day begins. */
export interface DayHead {
  readonly title: string;
  /** The year of the day, which stands once, in the first line. */
  readonly year: string;
  /** Study, day, records up to. */
  readonly where: readonly string[];
  readonly rowsNotUsed: PageLink | null;
  /** What is wrong with the day itself: before everything else. */
  readonly first: readonly string[];
  readonly headline: string;
}

export interface BoardPage extends DayHead {
  readonly dueTitle: string;
  readonly due: readonly BoardDue[];
  readonly columns: Readonly<Record<"why" | "mass" | "gain" | "eaten" | "signs", string>>;
  /** What the marks of a column mean, in a few words, over them. */
  readonly keys: Readonly<Record<"mass" | "gain" | "eaten" | "signs", string>>;
  readonly gainAxis: GainAxis;
  readonly gainLabel: (gain: number) => string;
  /** The most concern first: levels are shown in the order in which they come. */
  readonly rows: readonly BoardRow[];
  readonly whenEmpty: string;
  /** Rows written about nobody on the page. */
  readonly ofOthers: { readonly title: string; readonly lines: readonly string[] } | null;
  readonly decide: { readonly title: string; readonly text: string };
  readonly links: readonly PageLink[];
  /** More pages, in groups with a title. */
  readonly more: readonly { readonly title: string; readonly links: readonly PageLink[] }[];
  readonly note: string;
  readonly foot: string;
  readonly style?: string;
}
