import { localInstant, numberOfDate } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";
import { dimensionOf, type UnitName } from "../units/quantity.js";
import { type DecimalMark, readNumber, readQuantity } from "../units/read-quantity.js";
import { type DateStyle, readDate, readTime } from "../units/read-time.js";
import {
  clockWords,
  daySetWords,
  everyDaysWords,
  feedsADayWords,
  openEndWords,
  plainWords,
  saysNilByMouth,
  weekdayWords,
} from "./order-words.js";
import type { OrderedAmount, OrderedDays, Written } from "./study.js";

/** How the cells of one column of the table of plans are to be read. */
export interface OrderReading {
  readonly holds: string;
  readonly zone: string;
  readonly startHour: number;
  readonly dateStyle: DateStyle;
  readonly decimal: DecimalMark;
  /** Unit of bare amounts. */
  readonly unit: UnitName | null;
}

/**
 * Reads a cell of an order; null for a blank one. What cannot be read is kept
 * word for word with a null value: an order that stands in the file is printed,
 * if need be as it was written.
 *
 * @example readOrderCell("45 mL", how) // { words: "45 mL", value: { amount: 45, unit: "mL" } }
 */
export function readOrderCell(text: string, how: OrderReading): Written<unknown> | null {
  if (/^(-+|n\/?a|null)$/i.test(text)) return null;
  const words = text.normalize("NFC").replace(/\s+/g, " ").trim();
  const value = meaningOf(words, how);
  return value === openEnd ? null : { words, value };
}

const openEnd = Symbol("until replaced");

function meaningOf(words: string, how: OrderReading): unknown {
  switch (how.holds) {
    case "ordered amount":
      return readAmount(words, how);
    case "ordered feeds":
      return readFeedsADay(words, how);
    case "ordered times":
      return readClockTimes(words);
    case "ordered days":
      return readDays(words);
    default:
      return openEndWords.includes(plainWords(words)) ? openEnd : readEnd(words, how);
  }
}

function readAmount(words: string, how: OrderReading): OrderedAmount | "nil by mouth" | null {
  if (saysNilByMouth(words)) return "nil by mouth";
  const read = readQuantity(words, how.decimal);
  if (read.kind !== "number" || read.value < 0) return null;
  const unit: UnitName = read.unit ?? how.unit ?? "g";
  return dimensionOf(unit) === "temperature" || read.value > 5_000_000
    ? null
    : { amount: read.value, unit };
}

const mostFeedsADay = 96;

function readFeedsADay(words: string, how: OrderReading): number | "nil by mouth" | null {
  if (saysNilByMouth(words)) return "nil by mouth";
  const plain = plainWords(words);
  const named = feedsADayWords[plain.replace(/ (a|per) day$| daily$/, "")];
  if (named !== undefined) return named;
  const every = /^(?:q ?|every )(\d+(?:[.,]\d+)?) ?(?:h|hrs?|hours?|hourly)$/.exec(plain);
  const hourly = /^(\d+(?:[.,]\d+)?) ?hourly$/.exec(plain.replace("-", " "));
  const hours = (every ?? hourly)?.[1];
  if (hours !== undefined) {
    const n = 24 / Number(hours.replace(",", "."));
    return Number.isInteger(n) && n <= mostFeedsADay ? n : null;
  }
  const bare =
    /^x? ?([\d.,]+) ?(?:x|times|feeds?|\/ ?d|\/ ?day| d| day)?(?: (?:a|per) day| daily)?$/;
  const read = readNumber(bare.exec(plain)?.[1] ?? "", how.decimal);
  return read.kind === "number" && read.value >= 0 && read.value <= mostFeedsADay
    ? read.value
    : null;
}

function readClockTimes(words: string): readonly string[] | null {
  const joined = plainWords(words).replace(/(\d) (?=[ap]m\b)/g, "$1");
  const parts = joined.split(/\s*(?:[,;|/&+]|\band\b|\s)\s*/).filter((p) => p !== "");
  const times: string[] = [];
  for (const part of parts) {
    const time = clockWords[part] ?? clockTime(part);
    if (time === null) return null;
    times.push(time);
  }
  return times.length === 0 ? null : [...new Set(times)].sort();
}

function clockTime(part: string): string | null {
  const m = /^(\d{1,2})(?:[:.h]?(\d{2})|h)?([ap]m)?$/.exec(part);
  if (m === null) return null;
  const hour = Number(m[1]);
  const minute = Number(m[2] ?? 0);
  const half = m[3];
  if (minute > 59 || (half !== undefined && (hour < 1 || hour > 12))) return null;
  const clock = half === undefined ? hour : (hour % 12) + (half === "pm" ? 12 : 0);
  if (clock > 24 || (clock === 24 && minute > 0)) return null;
  return `${String(clock % 24).padStart(2, "0")}:${String(minute).padStart(2, "0")}`;
}

function readDays(words: string): OrderedDays | null {
  const plain = plainWords(words);
  const every = everyDaysWords[plain] ?? Number(/^(?:every|q) ?(\d+) ?d(?:ays)?$/.exec(plain)?.[1]);
  if (every >= 1 && every <= 31) return { kind: "every", days: every };
  const set = daySetWords[plain];
  if (set !== undefined) return { kind: "week", days: set };
  const found = new Set<number>();
  const range = String.raw`([a-z]+)\s*(?:-|–|to|until)\s*([a-z]+)`;
  const parts = words.toLowerCase().split(/\s*(?:[,;/&+]|\band\b)\s*/);
  for (const part of parts.flatMap((p) =>
    new RegExp(`^${range}$`).test(p) ? [p] : p.split(/\s+/),
  )) {
    const ends = new RegExp(`^${range}$`).exec(part);
    const first = weekday(ends?.[1] ?? part);
    const last = weekday(ends?.[2] ?? part);
    if (first === null || last === null) return null;
    for (let d = first; ; d = (d % 7) + 1) {
      found.add(d);
      if (d === last) break;
    }
  }
  return { kind: "week", days: [...found].sort() };
}

function weekday(word: string): number | null {
  const plain = word.replace(/\.$/, "").trim();
  const at = weekdayWords.findIndex(
    (names) => names.includes(plain) || names.includes(plain.replace(/s$/, "")),
  );
  return at === -1 ? null : at + 1;
}

/** A date alone includes its whole feeding day. */
function readEnd(words: string, how: OrderReading): number | null {
  const read = readTime(words, how.zone, how.dateStyle);
  if (read.kind === "happens twice") return read.second;
  if (read.kind !== "instant") return null;
  if (!read.dateOnly) return read.at;
  const date = readDate(words, how.dateStyle);
  if (date.kind !== "date") return null;
  const next = (numberOfDate(date.day) + 1) * dayMs + how.startHour * hourMs;
  return localInstant(next, how.zone);
}
