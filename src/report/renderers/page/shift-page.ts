import { typeset } from "../../../units/typeset.js";
import { capital } from "../../section/capital.js";
import type { ShiftBand, ShiftPage } from "../../section/shift.js";
import { levelMark } from "./board-marks.js";
import { dayHeadHtml } from "./day-head-html.js";
import { escapeHtml, htmlText } from "./escape.js";
import { pageFrame } from "./page-frame.js";
import { blockHtml } from "./section-html.js";
import { shiftRule } from "./shift-rule.js";
import { shiftStyle } from "./shift-style.js";

const nextLook = { time: "time", words: "untimed", stop: "time stop" } as const;

/**
 * The change of shift: one band an animal, those of most concern first; in each
 * its next feed, twelve hours back and ahead on one line, what changed, and what
 * to watch. On paper the folded part is left out.
 */
export function shiftPage(page: ShiftPage): string {
  const set = (words: string) => htmlText(words, page.year);
  const { columns } = page;
  const options = page.wording === undefined ? {} : { wording: page.wording };
  const lines = (items: readonly string[]) => items.map((l) => `<p>${set(l)}</p>`).join("");
  const listed = ({ title, lines: each }: { title: string; lines: readonly string[] }) =>
    each.length === 0
      ? ""
      : `<div class="said"><p class="what">${set(title)}</p><ul>${each.map((l) => `<li>${set(l)}</li>`).join("")}</ul></div>`;
  const band = (b: ShiftBand) => {
    const word = capital(b.level);
    return (
      `<section class="band ${b.level.replace(" ", "-")}" id="hand-over-${escapeHtml(b.animalId)}">` +
      `<div class="top"><h2>${escapeHtml(b.heading)}</h2>${b.grave.length === 0 ? "" : `<ul class="grave">${b.grave.map((l) => `<li>${set(l)}</li>`).join("")}</ul>`}<p class="word">${levelMark(b.level)} ${word}</p></div>` +
      `<div class="next" data-name="${set(columns.next)}"><p class="${nextLook[b.next.kind]}">${set(b.next.time)}</p><p class="amount">${set(b.next.amount)}</p>${b.next.small.map((s) => `<p class="sub">${set(s)}</p>`).join("")}</div>` +
      `<div class="rule">${shiftRule(b.rule, (w) => typeset(w, page.year))}</div>` +
      `<div class="changed" data-name="${set(columns.changed)}">${lines(b.changed)}</div>` +
      `<div class="watch" data-name="${set(columns.watch)}">${lines(b.watch)}${b.acts.map((a) => `<p class="act"><b>${set(a.when)}</b> ${set(a.act)}</p>`).join("")}</div>` +
      `<div class="below">${b.said.map(listed).join("")}` +
      `<details class="screen-only"><summary>${set(page.fold)}</summary>${b.full.map((block, i) => blockHtml(block, `s-${escapeHtml(b.animalId)}-${i}-`, options)).join("\n")}</details></div></section>`
    );
  };
  const head = `<div class="band head" aria-hidden="true"><span>${set(columns.next)}</span> <span class="over">${set(columns.rule)}</span> <span>${set(columns.changed)}</span> <span>${set(columns.watch)}</span></div>`;
  const body = [
    ...dayHeadHtml(page, page.links),
    page.bands.length === 0
      ? `<p>${set(page.whenEmpty)}</p>`
      : `${head}${page.bands.map(band).join("\n")}`,
    page.ofOthers === null ? "" : listed(page.ofOthers),
    `<div class="decide">${set(page.decide)}</div>`,
    `<p class="signed">${page.sign.map((s) => `<span>${escapeHtml(s)}</span>`).join(" ")}</p>`,
  ];
  return pageFrame({
    title: page.title,
    body: `<div class="shift-page">${body.join("\n")}</div>`,
    foot: page.foot,
    style: `${page.style ?? ""}${shiftStyle}`,
  });
}
