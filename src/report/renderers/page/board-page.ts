import { typeset } from "../../../units/typeset.js";
import type { BoardCell, BoardPage, BoardRow } from "../../section/board.js";
import { capital } from "../../section/capital.js";
import {
  eatenMark,
  gainMark,
  gainTicks,
  levelMark,
  massMark,
  temperatureMark,
} from "./board-marks.js";
import { boardStyle } from "./board-style.js";
import { dayHeadHtml, linkHtml } from "./day-head-html.js";
import { escapeHtml, htmlText } from "./escape.js";
import { pageFrame } from "./page-frame.js";

/** An id of more letters than these may break, or it would run over its neighbours. */
const longestTogether = 14;

/**
 * The day on one page: every animal in care on a line, those of most concern
 * first, with what was expected of it beside what was measured, why it stands
 * there and what is to be done by when. One A4 for a dozen animals; on a narrow
 * screen each line becomes a card.
 */
export function boardPage(page: BoardPage): string {
  const set = setter(page.year);
  const body = [
    ...dayHeadHtml(page),
    dueHtml(page),
    page.rows.length === 0 ? `<p>${set(page.whenEmpty)}</p>` : tableHtml(page),
    page.ofOthers === null
      ? ""
      : `<section class="of-others"><h2>${set(page.ofOthers.title)}</h2><ul>${page.ofOthers.lines.map((l) => `<li>${set(l)}</li>`).join("")}</ul></section>`,
    `<div class="decide"><b>${set(page.decide.title)}</b> ${set(page.decide.text)}</div>`,
    page.links.length === 0
      ? ""
      : `<p class="screen-only pages">${page.links.map(linkHtml).join(" · ")}</p>`,
    ...page.more.map(
      (group) =>
        `<details class="screen-only"><summary>${set(group.title)}</summary><ul class="many">${group.links.map((each) => `<li>${linkHtml(each)}</li>`).join("")}</ul></details>`,
    ),
    `<p class="note">${set(page.note)}</p>`,
  ];
  return pageFrame({
    title: page.title,
    body: `<div class="board-page${isCrowded(page) ? " crowded" : ""}">${body.join("\n")}</div>`,
    foot: page.foot,
    style: `${page.style ?? ""}${boardStyle}`,
  });
}

/** On paper so many animals have their whole line; of more, those of whom nothing is raised have a short one. */
const mostInFull = 12;

/** So many lines of words go on a sheet beside its head; a line of the animals' words has so many letters. */
const linesOfSheet = 46;
const lettersOfLine = 62;

/** Whether the animals, or what is to be said of them, are more than a sheet holds in full. */
function isCrowded({ rows, due }: BoardPage): boolean {
  const letters = (row: BoardRow) =>
    [...row.why, ...row.next.map((n) => `${n.when} ${n.act}`)].join(" ").length;
  const lines = rows.reduce((n, r) => n + Math.max(3, Math.ceil(letters(r) / lettersOfLine)), 0);
  return rows.length > mostInFull || lines + 2 * Math.min(mostDue, due.length) > linesOfSheet;
}

/** Beyond so many the line is crowded: the rest stands in the rows. */
const mostDue = 6;

/** Text for the page: safe, unbroken where it must be, and without the page's own year. */
const setter = (year: string) => (words: string) => htmlText(words, year);

function dueHtml(page: BoardPage): string {
  const set = setter(page.year);
  if (page.due.length === 0) return "";
  const ticks = Array.from(
    { length: 13 },
    (_, h) => `<i style="--x:${round((100 * h) / 12)}%"></i>`,
  );
  const placed = placeDue(page.due.slice(0, mostDue));
  const items = placed.map(({ due: d, row, room }) => {
    const end = d.at > 0.8 ? " end" : "";
    return `<li class="d${end}" style="--x:${round(100 * d.at)}%;--row:${row};--room:${round(100 * room)}%"><span><b>${set(d.when)}</b> ${levelMark(d.level)} <b>${set(d.who)}</b></span> <span class="what">${set(d.what)}</span></li>`;
  });
  const rows = 1 + Math.max(0, ...placed.map((p) => p.row));
  return `<section class="due"><h2>${set(page.dueTitle)}</h2><ol style="--rows:${rows}"><li class="ticks" aria-hidden="true">${ticks.join("")}</li>${items.join("")}</ol></section>`;
}

/** Two that are due together stand under each other; each has the room up to the next of its row. */
function placeDue(all: BoardPage["due"]) {
  const near = 0.19;
  const rows = all.map(
    (d, i) => all.slice(0, i).filter((o) => Math.abs(o.at - d.at) < near).length,
  );
  return all.map((due, i) => {
    const row = rows[i]!;
    const next = all.find((o, j) => j > i && rows[j] === row && o.at > due.at)?.at ?? 1;
    return { due, row, room: next - due.at };
  });
}

function tableHtml(page: BoardPage): string {
  const { columns, keys } = page;
  const set = setter(page.year);
  const key = (swatch: string, words: string) =>
    words === "" ? "" : `<span class="k">${swatch}${set(words)}</span>`;
  const water = '<i class="swatch water"></i>';
  const head = [
    cell("th", "c-n", "Animal"),
    cell("th", "c-w", set(columns.why)),
    cell("th", "c-m", `${set(columns.mass)}${key(water, keys.mass)}`),
    cell(
      "th",
      "c-g",
      `${set(columns.gain)}${key(water, keys.gain)}${gainTicks(page.gainAxis, page.gainLabel)}`,
    ),
    cell("th", "c-e", `${set(columns.eaten)}${key('<i class="swatch plan"></i>', keys.eaten)}`),
    cell("th", "c-s", `${set(columns.signs)}${key(water, keys.signs)}`),
  ].join("");
  const levels = [...new Set(page.rows.map((row) => row.level))];
  const span = massSpan(page.rows);
  const groups = levels.map((level) => {
    const rows = page.rows.filter((r) => r.level === level);
    const title = capital(level);
    return (
      `<tbody role="rowgroup" class="${level.replace(" ", "-")}"><tr role="row" class="group"><th role="rowheader" scope="row">${levelMark(level)} ${title} <span>${rows.length}</span></th></tr>` +
      `${rows.map((row) => rowHtml(row, page, span)).join("\n")}</tbody>`
    );
  });
  return `<table class="board" role="table"><caption class="unseen">${set(page.title)}</caption><thead role="rowgroup"><tr role="row" class="head">${head}</tr></thead>\n${groups.join("\n")}</table>`;
}

const cell = (tag: "th" | "td", kind: string, inner: string, name = "") =>
  tag === "th"
    ? `<th role="columnheader" scope="col" class="${kind}">${inner}</th>`
    : `<td role="cell" class="${kind}"${name === "" ? "" : ` data-name="${name}"`}>${inner}</td>`;

function rowHtml(row: BoardRow, page: BoardPage, span: number): string {
  const set = setter(page.year);
  const name = row.name ?? row.animalId;
  const shown =
    row.href === null
      ? `<b>${escapeHtml(name)}</b>`
      : `<a href="${escapeHtml(row.href)}">${escapeHtml(name)}</a>`;
  const id =
    row.name === null
      ? ""
      : ` <span class="id${row.animalId.length > longestTogether ? " long" : ""}">${escapeHtml(row.animalId)}</span>`;
  const facts = row.facts.map((f) => `<span class="sub">${set(f)}</span>`).join("");
  const why = row.why.map((words) => `<p>${set(words)}</p>`).join("");
  const next = row.next
    .map((n) => `<p class="next"><b>${set(n.when)}</b> ${set(n.act)}</p>`)
    .join("");
  const words = (c: BoardCell<unknown>) => typeset([c.value, ...c.small].join(", "), page.year);
  const filled = (kind: string, title: string, c: BoardCell<unknown>, mark: string) =>
    cell(
      "td",
      kind,
      `${mark}<span class="v">${set(c.value)}</span>${c.small.map((s) => `<span class="sub">${set(s)}</span>`).join("")}`,
      set(title),
    );
  const { mass, gain, eaten, signs } = row;
  return (
    `<tr role="row" class="animal" id="${escapeHtml(row.animalId)}"><th role="rowheader" scope="row" class="c-n">${shown}${id}${facts}</th>` +
    cell("td", "c-w", `${why}${next}`) +
    filled(
      "c-m",
      page.columns.mass,
      mass,
      mass.mark === null ? "" : massMark(mass.mark, span, words(mass)),
    ) +
    filled(
      "c-g",
      page.columns.gain,
      gain,
      gain.mark === null ? "" : gainMark(gain.mark, page.gainAxis, words(gain)),
    ) +
    filled(
      "c-e",
      page.columns.eaten,
      eaten,
      eaten.mark === null ? "" : eatenMark(eaten.mark, words(eaten)),
    ) +
    filled(
      "c-s",
      page.columns.signs,
      signs,
      signs.mark === null ? "" : temperatureMark(signs.mark, words(signs)),
    ) +
    "</tr>"
  );
}

/** The largest range of ln mass among the animals: one slope means one gain in every cell. */
function massSpan(rows: readonly BoardRow[]): number {
  const spans = rows.map(({ mass: { mark } }) => {
    const logs = [
      ...(mark?.points ?? []).map((p) => Math.log(p.massG)),
      ...(mark?.expected ?? []).flatMap((e) => [Math.log(e.lowG), Math.log(e.highG)]),
    ];
    return logs.length === 0 ? 0 : Math.max(...logs) - Math.min(...logs);
  });
  return Math.min(1.2, Math.max(0.1, ...spans));
}

const round = (x: number) => Math.round(x * 100) / 100;
