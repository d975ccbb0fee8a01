import { typeset } from "../../../units/typeset.js";

/** Text made safe to stand between tags and inside quoted attributes. */
export function escapeHtml(text: string): string {
  return text.replace(/[&<>"']/g, (mark) => `&#${mark.charCodeAt(0)};`);
}

/** A reader's text, safe and set as on a page; days of the page's own `year` stand without it. */
export function htmlText(text: string, year?: string): string {
  return escapeHtml(typeset(text, year));
}
