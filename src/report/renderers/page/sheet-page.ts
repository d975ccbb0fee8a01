import { noticeText } from "../../../core/catalogue.js";
import type { Notice } from "../../../core/notice.js";
import type { ShiftPlan } from "../../../planning/plan-shift.js";
import { addDays } from "../../../units/calendar.js";
import { screenWording } from "../../../units/format.js";
import { formatDate, localText } from "../../../units/format-date.js";
import { formatNumber } from "../../../units/format-number.js";
import { withYearOnce } from "../../../units/typeset.js";
import { byName } from "../../section/by-name.js";
import { say } from "../../section/say.js";
import { escapeHtml, htmlText } from "./escape.js";
import { pageFrame } from "./page-frame.js";

export interface SheetPage {
  readonly title: string;
  readonly shift: ShiftPlan | null;
  readonly zone: string;
  readonly foot: string;
  /** Said in the first line, on screen and on paper: what is wrong with the day itself. */
  readonly first?: readonly string[];
  /** What is asked about each animal, by its id. */
  readonly asked?: Readonly<Record<string, readonly string[]>>;
  /** What is asked about nobody on the sheet. */
  readonly askedOfOthers?: readonly string[];
  /** The last usable weighing of each animal, by its id, in words: the number that the other pages have. */
  readonly weighed?: Readonly<Record<string, string>>;
  readonly style?: string;
  readonly links?: readonly { readonly href: string; readonly text: string }[];
}

type SheetAnimal = ShiftPlan["sheet"]["animals"][number];

/** Empty rows where nobody ordered an amount: one feed every three hours. */
const blankRows = 8;

/**
 * The feeding sheet of the next day, for paper (A4 and Letter): each animal on a
 * sheet of its own in large type: what must be asked first, then each feed exactly
 * as ordered, at every level, with a box to tick and room for the grams offered
 * and refused, and lines to sign. Times that are not ordered are blank to write;
 * nothing computed stands in the rows.
 */
export function sheetPage(page: SheetPage): string {
  const { shift, zone } = page;
  const animals = shift?.sheet.animals ?? [];
  const body =
    shift === null || animals.length === 0
      ? `<p>${escapeHtml(say("sheet-nobody"))}</p>`
      : [
          ...animals.map((a) => animalHtml(a, shift, zone, page)),
          kitchenHtml(shift.sheet.kitchen),
        ].join("\n");
  const year = yearOf(shift);
  const first = (page.first ?? []).map((words) => `<p>${htmlText(words)}</p>\n`).join("");
  const others = askedHtml(page.askedOfOthers ?? [], year);
  const links = (page.links ?? [])
    .map((each) => `<a href="${escapeHtml(each.href)}">${escapeHtml(each.text)}</a>`)
    .join(" · ");
  return pageFrame({
    title: page.title,
    body: `<h1 class="screen-only">${escapeHtml(page.title)}</h1>\n${links === "" ? "" : `<p class="screen-only">${links}</p>\n`}${first}${others}${body}`,
    foot: page.foot,
    style: `${page.style ?? ""}${sheetStyle}`,
  });
}

/** On paper room is short: the hand-over lists the rest. */
const mostAsked = 4;

/** The year that stands in the line of the day on every sheet. */
const yearOf = (shift: ShiftPlan | null) => shift?.sheet.feedingDay.slice(0, 4);

function askedHtml(lines: readonly string[], year: string | undefined): string {
  if (lines.length === 0) return "";
  const item = (words: string) => `<li>${htmlText(words, year)}</li>`;
  const more = lines.length - mostAsked;
  const rest = more > 0 ? item(say("sheet-asked-more", { more })) : "";
  return `<p>${escapeHtml(say("asked-title"))}</p><ul>${lines.slice(0, mostAsked).map(item).join("")}${rest}</ul>`;
}

function animalHtml(
  animal: SheetAnimal,
  shift: ShiftPlan,
  zone: string,
  page: Pick<SheetPage, "first" | "asked" | "weighed">,
): string {
  const name = animal.name === null ? animal.animalId : `${animal.name} (${animal.animalId})`;
  const { sheet, until } = shift;
  const { order, rows, uncounted, hold, watch, act, measureFirst, instructions, call } = animal;
  const wording = screenWording(zone);
  const year = yearOf(shift)!;
  const say1 = (words: string, kind = "") => `<p${kind}>${htmlText(words, year)}</p>`;
  const items = (notices: readonly Notice[], kind: string) => {
    // A danger of an order is one of the levels too: it is said once.
    const lines = [...new Set(notices.map((n) => noticeText(byName(n, animal), wording)))];
    return lines.length === 0
      ? ""
      : `<ul class="${kind}">${lines.map((words) => `<li>${htmlText(words, year)}</li>`).join("")}</ul>`;
  };
  const grave = order.said.filter((n) => n.level !== "info");
  const nil = order.state === "nothing by mouth";
  return [
    `<section class="sheet" id="sheet-${escapeHtml(animal.animalId)}"><h2>${escapeHtml(`${name}, ${animal.species}`)}</h2>`,
    nil ? `<p class="hold">${escapeHtml(say("sheet-nil"))}</p>` : "",
    act === null ? "" : `<p class="hold">${escapeHtml(say("sheet-act", { act }))}</p>`,
    items([...hold, ...grave, ...watch], "first"),
    hold.length === 0
      ? ""
      : [
          ...instructions.map((words) => say1(say("level-standing", { words }))),
          ...(call === null ? [] : [say1(say("level-call", { words: call }))]),
        ].join("\n"),
    `<p>${htmlText(withYearOnce([say("sheet-for", { day: formatDate(sheet.feedingDay), at: until, zone }, zone)], year)[0]!)}</p>`,
    ...(page.first ?? []).map((words) => say1(words)),
    askedHtml(page.asked?.[animal.animalId] ?? [], year),
    ...order.lines.map((line) =>
      say1(
        `${line.words}.${line.doubted ? " ? Ask." : ""} ${noticeText(line.since, wording)}`,
        ' class="ordered"',
      ),
    ),
    items(
      order.said.filter((n) => n.level === "info"),
      "news",
    ),
    order.timesOpen ? say1(say("order-times-not-ordered")) : "",
    order.usual.times.length === 0 ? "" : say1(say("order-usual-hours", order.usual)),
    ...uncounted.map((u) => say1(say("sheet-uncounted", { ...u }, zone))),
    order.state === "no order" ? say1(say("sheet-no-order")) : "",
    rows.length === 0
      ? ""
      : say1(
          animal.totalG === null
            ? say("sheet-not-summed")
            : say("sheet-total", {
                grams: animal.totalG,
                feeds: rows.length,
                weighed: page.weighed?.[animal.animalId] ?? null,
              }),
        ),
    say1(say("sheet-instructions")),
    items(measureFirst, "before"),
    feedsHtml(
      name,
      rows,
      nil ? 0 : rows.length === 0 ? blankRows : 2 + 2 * uncounted.length,
      breaksOf(animal, shift, zone),
      year,
    ),
    ...sheet.cautions.map((n) => say1(noticeText(n, wording), ' class="small"')),
    `<p class="sign"><span>Attending veterinarian, date</span> <span>Sheet closed by, date and time</span></p></section>`,
  ].join("\n");
}

/** A line across the table, before the row of that place. */
interface Break {
  readonly before: number;
  readonly kind: "discard" | "midnight" | "stop";
  readonly words: string;
}

/**
 * Where a batch is to be discarded, between the feeds that it parts, above the
 * first where no times are ordered; and where the date changes.
 */
function breaksOf(animal: SheetAnimal, shift: ShiftPlan, zone: string): Break[] {
  const { feedingDay } = shift.sheet;
  const { rows } = animal;
  const times = rows.map((r) => r.time);
  const midnight = times.findIndex((t, i) => i > 0 && t !== null && t < (times[i - 1] ?? ""));
  const dayOf = (i: number) =>
    midnight > 0 && i >= midnight ? addDays(feedingDay, 1) : feedingDay;
  const diets = new Set(rows.map((r) => r.dietId));
  const discards = shift.batches
    .filter((b) => diets.has(b.dietId))
    .map((b): Break => {
      const at = localText(b.discardAt, zone);
      const after = rows.findIndex((r, i) => r.time !== null && `${dayOf(i)} ${r.time}` >= at);
      const timed = rows.every((r) => r.time !== null);
      const before = !timed ? 0 : after < 0 ? rows.length : after;
      return {
        before,
        kind: "discard",
        words: say(
          "sheet-discard",
          {
            batch: b.batchId,
            diet: b.dietId,
            at: b.discardAt,
            made: b.madeAt,
            hours: b.keepsH,
            passed: b.discardAt <= shift.until,
          },
          zone,
        ),
      };
    });
  const dates: Break[] =
    midnight > 0
      ? [{ before: midnight, kind: "midnight", words: formatDate(addDays(feedingDay, 1)) }]
      : [];
  // In the rows themselves: whoever feeds by the table meets it before the first amount.
  const stop: Break[] =
    animal.act === "do not feed until spoken" && rows.length > 0
      ? [{ before: 0, kind: "stop", words: say("sheet-stop") }]
      : [];
  return [...stop, ...discards, ...dates];
}

function feedsHtml(
  name: string,
  rows: SheetAnimal["rows"],
  blank: number,
  breaks: readonly Break[],
  year: string,
): string {
  const heads = [
    "Given",
    "Time",
    "Diet",
    "Ordered",
    "Offered g",
    "Refused g",
    "Stool",
    "Urine",
    "Note",
    "Initials",
  ];
  const box = '<td class="box"><span role="img" aria-label="box to tick"></span></td>';
  const room = '<td class="room"></td>';
  const note = '<td class="wide"></td>';
  const write = `${room.repeat(4)}${note}${room}`;
  const across = (at: number) =>
    breaks
      .filter((b) => b.before === at)
      .map(
        (b) =>
          `<tr class="${b.kind}"><td colspan="${heads.length}">${htmlText(b.words, year)}</td></tr>\n`,
      )
      .join("");
  const filled = rows.map(
    (r, i) =>
      `${across(i)}<tr>${box}${r.time === null ? "<td></td>" : `<th scope="row">${escapeHtml(r.time)}</th>`}<td>${escapeHtml(r.dietId ?? "")}</td><td class="number">${escapeHtml(r.amount)}</td>${write}</tr>`,
  );
  const empty = Array.from(
    { length: blank },
    (_, i) => `${i === 0 ? across(rows.length) : ""}<tr>${box}${room.repeat(3)}${write}</tr>`,
  );
  const all = [...filled, ...empty];
  if (all.length === 0) return "";
  // The rows share what is left of the sheet: the fewer there are, the more room to write.
  // Lines between them (discard times, midnight) take their part, and Letter is shorter than A4.
  const between = breaks.reduce((sum, b) => sum + (b.kind === "stop" ? 30 : 9), 0);
  const height = Math.min(15, Math.max(7, (128 - between) / all.length));
  return (
    `${tableHead(`Feeds of ${name}`, height)}<thead><tr>${heads.map((h) => `<th scope="col">${h}</th>`).join("")}</tr></thead>` +
    `<tbody>${all.join("\n")}</tbody></table></div>`
  );
}

/** A narrow screen scrolls the table, not the page; the box can be reached by keyboard and has a name. */
function tableHead(name: string, rowMm = 10): string {
  const safe = escapeHtml(name);
  return `<div class="scroll" tabindex="0" role="region" aria-label="${safe}"><table aria-label="${safe}" style="--row: ${rowMm.toFixed(1)}mm">`;
}

function kitchenHtml(kitchen: ShiftPlan["sheet"]["kitchen"]): string {
  if (kitchen.length === 0) return "";
  const rows = kitchen.map(
    (k) =>
      `<tr><th scope="row">${escapeHtml(k.dietId)}</th><td class="number">${formatNumber(k.g, 6)} g</td><td class="number">${k.feeds}</td></tr>`,
  );
  return `<section class="sheet"><h2>Kitchen</h2><p>${escapeHtml(say("sheet-kitchen"))}</p>${tableHead("Kitchen")}<thead><tr><th scope="col">Diet</th><th scope="col">Together</th><th scope="col">Feeds</th></tr></thead><tbody>${rows.join("\n")}</tbody></table></div></section>`;
}

/** Rows high enough to write in; one animal a sheet; nothing depends on colour. */
const sheetStyle = `
.sheet h2 { font-size: 1.8rem; letter-spacing: -.01em; border-bottom: 2px solid var(--ink); padding-bottom: .2rem; }
.sheet table { font-size: 1rem; width: calc(100% - 2px); margin-left: 1px; } .sheet th, .sheet td { border: 1px solid var(--ink); padding: .3rem .45rem; vertical-align: middle; }
.sheet thead th { font-size: .8125rem; font-weight: 400; border: 0; border-bottom: 2px solid var(--ink); } .sheet tbody tr { height: 2.7rem; } .sheet .box { width: 2.6rem; text-align: center; } .sheet .box span { display: inline-block; width: 1.2rem; height: 1.2rem; border: 2px solid var(--ink); }
.sheet tbody th { font-size: 1.4rem; font-weight: 600; white-space: nowrap; } .sheet .number { white-space: nowrap; font-size: 1.3rem; font-weight: 600; text-align: right; } .sheet .room { width: 4.6rem; } .sheet .wide { min-width: 7rem; } .sheet thead th:nth-child(3) { min-width: 8.5rem; } .sheet .small { font-size: .875rem; } .sheet p, .sheet ul { max-width: none; margin: .35rem 0; }
.sheet tr.discard, .sheet tr.midnight { height: 1.8rem; } .sheet tr.discard td { border-top: 4px double var(--ink); font-weight: 600; font-size: .9375rem; } .sheet tr.midnight td { font-weight: 600; font-size: .875rem; } .sheet tr.stop td { border: 4px solid var(--ink); font-weight: 700; font-size: 1.15rem; }
.sheet .hold { font-size: 1.5rem; font-weight: 700; border: 4px solid var(--ink); padding: .6rem 1rem; max-width: 52rem; }
.sheet .first li, .sheet .before li { font-weight: 700; } .sheet .ordered { font-size: 1.15rem; }
.sheet .sign { display: flex; gap: 2rem; max-width: none; margin: 2.4rem 0 0; } .sheet .sign span { flex: 1; border-top: 1px solid var(--ink); padding-top: .2rem; font-size: .9rem; }
@media screen and (max-width: 40rem) { .sheet .room, .sheet .wide, .sheet thead th:nth-child(n+5) { display: none; } .sheet td[colspan] { display: table-cell; } }
@media print { @page { margin: 11mm 10mm; } .sheet { break-before: page; font-size: 10pt; line-height: 1.3; } .sheet:first-of-type { break-before: auto; } .sheet h2 { font-size: 20pt; margin: 0 0 3pt; } .sheet p, .sheet ul { margin: 2pt 0; max-width: none; }
  .sheet table { font-size: 10pt; margin-top: 5pt; } .sheet th, .sheet td { padding: 1pt 4pt; } .sheet thead th { font-size: 8pt; } .sheet tbody tr { height: var(--row); break-inside: avoid; } .sheet tr.discard, .sheet tr.midnight { height: 6mm; } .sheet tr.discard td, .sheet tr.midnight td { font-size: 9pt; } .sheet tr.stop td { font-size: 11pt; }
  .sheet tbody th { font-size: 14pt; } .sheet .number { font-size: 13pt; } .sheet .room { width: 16mm; } .sheet .wide { min-width: 24mm; } .sheet thead th:nth-child(3) { min-width: 36mm; } .sheet .box { width: 9mm; } .sheet .box span { width: 5mm; height: 5mm; }
  .sheet .small { font-size: 8pt; } .sheet .hold { font-size: 14pt; padding: 3pt 8pt; } .sheet .ordered { font-size: 11pt; } .sheet .sign { margin-top: 11mm; break-inside: avoid; break-before: avoid; } .sheet .sign span { font-size: 9pt; } }
`;
