import { printable } from "../../../core/printable.js";
import { typeset } from "../../../units/typeset.js";

/**
 * Text made safe to stand between tags and inside quoted attributes. Characters that
 * no document may hold (XML 1.0, production 2) show as U+FFFD.
 *
 * @example escapeHtml("a < b") // "a &#60; b"
 */
export function escapeHtml(text: string): string {
  return printable(text).replace(/[&<>"']/g, (mark) => `&#${mark.charCodeAt(0)};`);
}

/** A reader's text, safe and set as on a page; days of the page's own `year` stand without it. */
export function htmlText(text: string, year?: string): string {
  return escapeHtml(typeset(text, year));
}
