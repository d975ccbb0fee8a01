import type { NoticeParameter } from "./notice.js";

/**
 * How numbers become text inside a sentence. `core` knows no units and no
 * locale, so the catalogue is handed a wording; `units/format` supplies the one
 * used on screen. {@link plainWording} is the fallback for logs and tests.
 */
export interface Wording {
  /** A number with at most `digits` significant digits (default 4). */
  number(value: number, digits?: number): string;
  /** An instant (epoch ms) as a readable local date and time. */
  instant(epochMs: number): string;
  /** A list of names or numbers: "a, b and c". */
  list(items: readonly (string | number)[]): string;
}

export const plainWording: Wording = {
  number: (value, digits = 4) => String(Number(value.toPrecision(digits))),
  instant: (epochMs) => `${new Date(epochMs).toISOString().slice(0, 16).replace("T", " ")} UTC`,
  list: (items) =>
    items.length < 2
      ? items.join("")
      : `${items.slice(0, -1).join(", ")} and ${String(items[items.length - 1])}`,
};

/**
 * One entry of the catalogue: parameters in, one sentence out. `p` reads a
 * parameter as text, `n` as a number in words; a missing one shows as "?", so a
 * mistake in a sentence is visible and never a crash.
 */
export type Sentence = (p: SentenceParameters) => string;

export interface SentenceParameters {
  text(name: string): string;
  number(name: string, digits?: number): string;
  instant(name: string): string;
  list(name: string): string;
  raw(name: string): NoticeParameter | undefined;
}
