import { measureText } from "../../../charts/measure-text.js";
import type { ShiftRule } from "../../section/shift.js";
import { escapeHtml } from "./escape.js";

const size = { width: 300, height: 56, line: 38 };
const feed = { width: 6, height: 20 };

/** A graduated line: what was given and eaten before now, what is ordered after it. */
export function shiftRule(rule: ShiftRule, set: (words: string) => string): string {
  const { width, height, line } = size;
  const x = (at: number) => Math.round(10 * (8 + ((at + 1) / 2) * (width - 16))) / 10;
  const top = line - feed.height;
  const box = (at: number, kind: string) =>
    `<rect x="${x(at) - feed.width / 2}" y="${top}" width="${feed.width}" height="${feed.height}" class="${kind}"/>`;
  const given = rule.given.map(({ at, least, most }) => {
    const full = Math.round(feed.height * least);
    const known = most - least < 0.02;
    const fill = `<rect x="${x(at) - feed.width / 2}" y="${line - full}" width="${feed.width}" height="${full}" class="f-ink"/>`;
    const doubt = known
      ? ""
      : `<text x="${x(at)}" y="${top + 14}" text-anchor="middle" class="q">?</text>`;
    return `${box(at, "l-ink f-paper")}${fill}${doubt}`;
  });
  const due = rule.due.map((at) => box(at, rule.waits ? "l-plan f-paper waits" : "l-plan f-paper"));
  const signs = rule.signs.map(({ at }) => `<path d="M${x(at) - 4} 6h8l-4 7z" class="f-alarm"/>`);
  // The newest sign is named; the others stand in the words beside the line.
  const named = rule.signs.at(-1);
  const anchor = named !== undefined && named.at > -0.35 ? "end" : "start";
  // Where another mark stands in its way it goes up by a line.
  const reach = named === undefined ? 0 : 9 + measureText(named.words, 11, false);
  const own = x(named?.at ?? 0);
  const covered = rule.signs.some(({ at }) => {
    const from = anchor === "end" ? own - x(at) : x(at) - own;
    return from > 3 && from < reach + 5;
  });
  const lift = covered ? 12 : 0;
  const label =
    named === undefined
      ? ""
      : `<text x="${x(named.at) + (anchor === "end" ? -7 : 7)}" y="${13 - lift}" text-anchor="${anchor}" class="t-alarm">${escapeHtml(set(named.words))}</text>`;
  const hours = rule.hours.map(
    (h) =>
      `<path d="M${x(h.at)} ${line}v4" class="l-rule"/><text x="${x(h.at)}" y="${line + 15}" text-anchor="middle">${escapeHtml(h.label)}</text>`,
  );
  const none =
    rule.noTimes === null
      ? ""
      : `<text x="${x(0) + 8}" y="${line - 6}" class="t-plan">${escapeHtml(set(rule.noTimes))}</text>`;
  return `<svg class="shift-rule" viewBox="0 ${-lift} ${width} ${height + lift}" width="${width}" height="${height + lift}" role="img" aria-label="${escapeHtml(set(rule.words))}"><path d="M${x(-1)} ${line}H${x(1)}" class="l-rule"/>${hours.join("")}${given.join("")}${due.join("")}${none}<path d="M${x(0)} ${top - 8}V${line + 4}" class="l-ink" stroke-width="1.8"/>${signs.join("")}${label}</svg>`;
}
