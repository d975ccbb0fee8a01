import type { LeadBlock, QuestionsBlock } from "../../section/section.js";
import { strengthSquares } from "../../section/strength-words.js";
import { escapeHtml, htmlText } from "./escape.js";

/** The headline, with the line above that says of whom, when and from what; `beside` is safe HTML. */
export function leadHtml(
  block: LeadBlock,
  year?: string,
  tag: "h1" | "p" = "p",
  beside = "",
): string {
  const where = block.where.map(
    (words, i) => `<span>${i === 0 ? `<b>${escapeHtml(words)}</b>` : htmlText(words)}</span>`,
  );
  return (
    (where.length === 0 ? "" : `<p class="where">${where.join("")}${beside}</p>`) +
    `<${tag} class="headline">${htmlText(block.headline, year)}</${tag}>` +
    (block.under === null ? "" : `<p class="under">${htmlText(block.under, year)}</p>`)
  );
}

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
