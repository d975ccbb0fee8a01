import { escapeHtml } from "./escape.js";

/**
 * The white box around a picture. On a narrow screen it scrolls, so it can be
 * reached by keyboard and has a name (WCAG 2.2, 2.1.1 and 4.1.2). `inner` is
 * HTML that is already safe.
 */
export function pictureBox(inner: string, name: string): string {
  return `<div class="picture" tabindex="0" role="group" aria-label="${escapeHtml(name)}">${inner}</div>`;
}
