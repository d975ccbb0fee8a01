import type { NoticeCode, ParametersOf } from "./sentences.js";
import type { NoticeParameter } from "./wording.js";

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

export interface Notice {
  readonly code: NoticeCode;
  readonly level: NoticeLevel;
  readonly parameters: Readonly<Record<string, NoticeParameter>>;
  readonly place?: Place;
}

/** The parameters `P`, where they are what the sentence of the code declares and nothing beyond. */
export type Exactly<C extends NoticeCode, P> = P & {
  readonly [N in Exclude<keyof P, keyof ParametersOf<C>>]: never;
};

/** The codes whose sentences need no parameter. */
export type PlainCode = {
  [C in NoticeCode]: Record<never, never> extends ParametersOf<C> ? C : never;
}[NoticeCode];

/**
 * Makes a notice. A code that has no sentence, and a parameter that is missing,
 * superfluous or of another type than its sentence declares, do not compile.
 *
 * @example notice("flag-no-temperature", "info", { animal: "P1" })
 */
export function notice(code: PlainCode, level: NoticeLevel): Notice;
export function notice<C extends NoticeCode, P extends ParametersOf<C>>(
  code: C,
  level: NoticeLevel,
  parameters: Exactly<C, P>,
  place?: Place,
): Notice;
export function notice(
  code: NoticeCode,
  level: NoticeLevel,
  parameters: Notice["parameters"] = {},
  place?: Place,
): Notice {
  return place === undefined ? { code, level, parameters } : { code, level, parameters, place };
}
