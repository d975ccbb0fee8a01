/**
 * A notice: something the reader of a result must know, kept as a code with
 * numbers and names, never as formatted text. The sentence is made at display
 * time by {@link noticeText} from the catalogue, so a result stays plain data.
 */
export type NoticeLevel = "info" | "caution" | "problem";

/** Where in the input a notice points. Every field that is known is filled in. */
export interface Place {
  readonly file?: string;
  readonly table?: string;
  /** 1-based line in the file, the header being line 1. */
  readonly line?: number;
  readonly column?: string;
  /** The cell as a spreadsheet names it ("D7"), where a line holds several records. */
  readonly cell?: string;
  readonly animal?: string;
}

export type NoticeParameter = string | number | boolean | null | readonly (string | number)[];

export interface Notice {
  readonly code: string;
  readonly level: NoticeLevel;
  readonly parameters: Readonly<Record<string, NoticeParameter>>;
  readonly place?: Place;
}

/** Makes a notice. `notice("fit-few-points", "caution", { points: 4, needed: 6 })`. */
export function notice(
  code: string,
  level: NoticeLevel,
  parameters: Notice["parameters"] = {},
  place?: Place,
): Notice {
  return place === undefined ? { code, level, parameters } : { code, level, parameters, place };
}
