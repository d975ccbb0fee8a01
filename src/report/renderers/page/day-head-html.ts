import { withYearOnce } from "../../../units/typeset.js";
import type { DayHead } from "../../section/board.js";
import type { PageLink } from "../../section/page-link.js";
import { escapeHtml, htmlText } from "./escape.js";
import { whereHtml } from "./lead-html.js";

/** A link as it stands on the pages of the day. */
export const linkHtml = (to: PageLink): string =>
  `<a href="${escapeHtml(to.href)}">${escapeHtml(to.text)}</a>`;

/** Where and when, what is wrong with the day itself, and the answer: how every page of the day begins. */
export function dayHeadHtml(page: DayHead, links: readonly PageLink[] = []): string[] {
  const where = withYearOnce(page.where, page.year).map((words, i) =>
    i === 0 ? `<b>${escapeHtml(words)}</b>` : htmlText(words),
  );
  const leads = [...(page.rowsNotUsed === null ? [] : [page.rowsNotUsed]), ...links];
  return [
    whereHtml([...where, ...leads.map(linkHtml)]),
    ...page.first.map((words) => `<p class="first-line">${htmlText(words, page.year)}</p>`),
    `<h1>${htmlText(page.headline, page.year)}</h1>`,
  ];
}
