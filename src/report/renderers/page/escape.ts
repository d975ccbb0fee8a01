import { printable } from "../../../core/printable.js";
import { typeset } from "../../../units/typeset.js";

/**
 * Text made safe to stand between tags and inside quoted attributes. Characters that
 * no document may hold (XML 1.0, production 2) show as U+FFFD.
 *
 * @example escapeHtml("a < b") // "a &#60; b"
 */
export function escapeHtml(text: string): string {
  // Most of what is written needs nothing done: looked through once.
  if (!special.test(text)) return text;
  return printable(text).replace(/[&<>"']/g, (mark) => `&#${mark.charCodeAt(0)};`);
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: as `printable` has them.
const special = /[&<>"'\u0000-\u0008\u000B\u000C\u000E-\u001F\u007F\uFFFE\uFFFF]/;

/** A reader's text, safe and set as on a page; days of the page's own `year` stand without it. */
export function htmlText(text: string, year?: string): string {
  return escapeHtml(typeset(text, year));
}
