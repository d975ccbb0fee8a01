import { withYearOnce } from "../../../units/typeset.js";
import type { LeadBlock, QuestionsBlock } from "../../section/section.js";
import { strengthSquares } from "../../section/strength-words.js";
import { escapeHtml, htmlText } from "./escape.js";

/** The headline, with the line above that says of whom, when and from what; `beside` is safe
 * HTML, `first` what is wrong with the day itself. */
export function leadHtml(
  block: LeadBlock,
  year?: string,
  tag: "h1" | "p" = "p",
  beside = "",
  first: readonly string[] = [],
): string {
  const set = year === undefined ? block.where : withYearOnce(block.where, year);
  const where = set.map((words, i) => (i === 0 ? `<b>${escapeHtml(words)}</b>` : htmlText(words)));
  return (
    (where.length === 0 ? "" : whereHtml(beside === "" ? where : [...where, beside])) +
    first.map((words) => `<p class="first-line">${htmlText(words, year)}</p>`).join("") +
    `<${tag} class="headline">${htmlText(block.headline, year)}</${tag}>` +
    (block.under === null ? "" : `<p class="under">${htmlText(block.under, year)}</p>`) +
    (block.also === undefined || block.also.length === 0
      ? ""
      : `<ul class="also">${block.also.map((words) => `<li>${htmlText(words, year)}</li>`).join("")}</ul>`)
  );
}

/**
 * Where, of whom and when in one line, each part safe HTML. Pages keep the parts apart by their
 * style; where there is none, as in a notebook, a dot does.
 */
export const whereHtml = (parts: readonly string[]): string =>
  `<p class="where">${parts.map((part) => `<span>${part}</span>`).join('<span class="cut"> · </span>')}</p>`;

/** Short answers to the reader's own questions, with how much the records say to each. */
export function questionsHtml(block: QuestionsBlock, year?: string): string {
  const each = block.answers.map((a) => {
    const filled = strengthSquares[a.strength];
    const squares = `${"■".repeat(filled)}${"□".repeat(3 - filled)}`;
    const words = a.strength === "not yet known" ? a.strength : `records ${a.strength}`;
    return (
      `<div class="question"><h2>${htmlText(a.question)}</h2><p>${htmlText(a.answer, year)}</p>` +
      `<p class="strength"><span aria-hidden="true">${squares}</span> ${words}</p></div>`
    );
  });
  return `<div class="questions">${each.join("")}</div>`;
}
