import type {
  BoardLevel,
  EatenMark,
  GainAxis,
  GainMark,
  MassMark,
  TemperatureMark,
} from "../../section/board.js";
import { escapeHtml } from "./escape.js";

/** The shape of a level, 16 px, hidden from screen readers since the word stands beside it. */
export function levelMark(level: BoardLevel): string {
  const shapes: Readonly<Record<BoardLevel, string>> = {
    danger:
      '<rect x="1" y="1" width="14" height="14" rx="1.5" class="f-alarm"/><path d="M8 3.6v5.4M8 11v1.9" class="l-on" stroke-width="2.2"/>',
    "second look":
      '<circle cx="8" cy="8" r="6.3" class="l-alarm" stroke-width="1.9"/><circle cx="8" cy="8" r="2.4" class="f-alarm"/>',
    "measure first":
      '<path d="M8 3v9.5M4.5 13.4h7M2 4.4h12" class="l-plan" stroke-width="1.7"/><path d="M.8 8.8L3 4.6l2.2 4.2zM10.8 8.8L13 4.6l2.2 4.2z" class="f-plan"/>',
    "not judged":
      '<circle cx="8" cy="8" r="6.2" class="l-rule" stroke-width="1.6" stroke-dasharray="2.4 2.4"/>',
    "nothing raised": '<path d="M3.5 8h9" class="l-rule" stroke-width="2"/>',
  };
  return `<svg class="level" viewBox="0 0 16 16" width="16" height="16" aria-hidden="true">${shapes[level]}</svg>`;
}

const massSize = { width: 170, height: 38, pad: 4 };

/**
 * Masses against what was expected. `span` is the largest ln(mass) range of the
 * page: with one span for all, equal slopes are equal gains in per cent.
 */
export function massMark(mark: MassMark, span: number, words: string): string {
  const { width, height, pad } = massSize;
  const logs = [
    ...mark.points.map((p) => Math.log(p.massG)),
    ...mark.expected.flatMap((e) => [Math.log(e.lowG), Math.log(e.highG)]),
  ];
  if (logs.length === 0) return "";
  const low = Math.min(...logs);
  const middle = (low + Math.max(...logs)) / 2;
  const x = (day: number) => pad + (day / Math.max(1, mark.days)) * (width - 2 * pad);
  const y = (massG: number) => {
    const at = height / 2 - ((Math.log(massG) - middle) / span) * (height - 2 * pad);
    return Math.min(height - 2, Math.max(2, at));
  };
  const at = (day: number, massG: number) => `${round(x(day))} ${round(y(massG))}`;
  const upper = mark.expected.map((e) => at(e.day, e.highG));
  const lower = mark.expected.map((e) => at(e.day, e.lowG)).reverse();
  const band =
    upper.length < 2 ? "" : `<path d="M${[...upper, ...lower].join("L")}Z" class="f-water edge"/>`;
  const centre = mark.expected.map((e) => at(e.day, e.massG)).join("L");
  const middleLine =
    upper.length < 2 ? "" : `<path d="M${centre}" class="l-water" stroke-dasharray="3 3"/>`;
  const line = mark.points.map((p) => at(p.day, p.massG)).join("L");
  const last = mark.points.at(-1);
  const end =
    last === undefined
      ? ""
      : `<circle cx="${round(x(last.day))}" cy="${round(y(last.massG))}" r="2.8" class="f-ink"/>`;
  const doubt =
    mark.doubted === null
      ? ""
      : `${last === undefined ? "" : `<path d="M${at(last.day, last.massG)}L${at(mark.doubted.day, mark.doubted.massG)}" class="l-plan" stroke-dasharray="1.5 2.5"/>`}<circle cx="${round(x(mark.doubted.day))}" cy="${round(y(mark.doubted.massG))}" r="3.4" class="l-plan f-paper" stroke-width="1.8"/>`;
  return picture(
    massSize,
    words,
    `${band}${middleLine}${line === "" ? "" : `<path d="M${line}" class="l-ink" stroke-width="1.6" stroke-linejoin="round"/>`}${end}${doubt}`,
  );
}

const gainSize = { width: 150, height: 38 };
const gainX = (axis: GainAxis) => (gain: number) =>
  8 +
  ((Math.min(axis.to, Math.max(axis.from, gain)) - axis.from) / (axis.to - axis.from)) *
    (gainSize.width - 16);

export function gainMark(mark: GainMark, axis: GainAxis, words: string): string {
  const x = gainX(axis);
  const band = mark.nineInTen;
  const others =
    band === null
      ? mark.others
          .map((g) => `<circle cx="${round(x(g))}" cy="11" r="2.6" class="f-water2 edge"/>`)
          .join("")
      : `<rect x="${round(x(band[0]))}" y="5" width="${round(Math.max(2, x(band[1]) - x(band[0])))}" height="28" class="f-water edge"/>`;
  const zero = `<path d="M${round(x(0))} 2v34" class="l-rule"/>`;
  const own = band === null ? 25 : 19;
  const [low, high] = [mark.low ?? mark.value, mark.high ?? mark.value];
  const bar = `<path d="M${round(x(low))} ${own}H${round(x(high))}" class="l-ink" stroke-width="2"/>`;
  return picture(
    gainSize,
    words,
    `${others}${zero}${bar}${beyond(low < axis.from, high > axis.to, own)}<circle cx="${round(x(mark.value))}" cy="${own}" r="4" class="f-ink"/>`,
  );
}

/** Arrows where an interval goes on past the end of the axis. */
function beyond(left: boolean, right: boolean, y: number): string {
  const w = gainSize.width;
  return `${left ? `<path d="M12 ${y - 4}l-6 4l6 4" class="l-ink" stroke-width="1.6"/>` : ""}${right ? `<path d="M${w - 12} ${y - 4}l6 4l-6 4" class="l-ink" stroke-width="1.6"/>` : ""}`;
}

/** The numbers of the shared axis, to stand once over the column. */
export function gainTicks(axis: GainAxis, label: (gain: number) => string): string {
  const x = gainX(axis);
  const ticks = axis.ticks
    .map(
      (t) => `<text x="${round(x(t))}" y="11" text-anchor="middle">${escapeHtml(label(t))}</text>`,
    )
    .join("");
  return `<svg class="ticks" width="${gainSize.width}" height="14" viewBox="0 0 ${gainSize.width} 14" aria-hidden="true">${ticks}</svg>`;
}

const eatenSize = { width: 116, height: 38 };
/** A little more than all of it: who was fed above the order is seen to be. */
const eatenTo = 125;

export function eatenMark(mark: EatenMark, words: string): string {
  const x = (pct: number) => 2 + (Math.min(eatenTo, pct) / eatenTo) * (eatenSize.width - 6);
  const known = `<rect x="2" y="13" width="${round(x(mark.lowPct) - 2)}" height="12" class="f-soft"/>`;
  const open =
    mark.highPct - mark.lowPct < 0.5
      ? ""
      : `<rect x="${round(x(mark.lowPct))}" y="13" width="${round(x(mark.highPct) - x(mark.lowPct))}" height="12" class="l-ink" stroke-dasharray="2 2"/>`;
  const ordered = `<path d="M${round(x(100)) - 4} 5h4v28h-4" class="l-plan" stroke-width="1.8"/>`;
  return picture(eatenSize, words, `<path d="M2 9V29" class="l-rule"/>${known}${open}${ordered}`);
}

const temperatureSize = { width: 100, height: 16 };

export function temperatureMark(mark: TemperatureMark, words: string): string {
  const [low, high] = mark.limits;
  const room = Math.max(0.5, high - low);
  const from = low - room;
  const x = (t: number) =>
    Math.min(96, Math.max(4, 4 + ((t - from) / (3 * room)) * (temperatureSize.width - 8)));
  const off = mark.low < low || mark.high > high;
  const at = round(x(mark.low < low ? mark.low : mark.high));
  const dot = off
    ? `<path d="M${at - 4} 12l4-8l4 8z" class="f-alarm"/>`
    : `<circle cx="${at}" cy="8" r="3.2" class="f-ink"/>`;
  return picture(
    temperatureSize,
    words,
    `<path d="M4 8H96" class="l-hair"/><rect x="${round(x(low))}" y="2" width="${round(x(high) - x(low))}" height="12" class="f-water edge"/>${dot}`,
  );
}

function picture(size: { width: number; height: number }, words: string, inner: string): string {
  return `<svg class="mark" width="${size.width}" height="${size.height}" viewBox="0 0 ${size.width} ${size.height}" role="img" aria-label="${escapeHtml(words)}">${inner}</svg>`;
}

const round = (x: number) => Math.round(x * 10) / 10;
