import type { Exactly, Notice, Place } from "../core/notice.js";
import type { NoticeCode, ParametersOf } from "../core/sentences.js";
import { sizeLimits } from "../core/size-limits.js";
import { localInstant, localNoon, numberOfDate } from "../units/calendar.js";
import { cleanText } from "../units/clean-text.js";
import { dayMs } from "../units/day-ms.js";
import { localText } from "../units/format-date.js";
import { hourMs } from "../units/hour-ms.js";
import { minuteMs } from "../units/minute-ms.js";
import { convert, dimensionOf, type UnitName, unitNamed, units } from "../units/quantity.js";
import { type DecimalMark, readNumber, readQuantity } from "../units/read-quantity.js";
import { readRoughDate } from "../units/read-rough-date.js";
import { type DateStyle, readDate, readTime } from "../units/read-time.js";
import { type CellWords, meaningOf, meaningOfName } from "./cell-words.js";
import type { Column } from "./columns.js";
import { readOrderCell } from "./read-order-cell.js";

/** How the cells of one column are to be read. */
export interface ColumnReading {
  readonly column: Column;
  readonly zone: string;
  readonly startHour: number;
  readonly dateStyle: DateStyle;
  readonly decimal: DecimalMark;
  /** Unit of bare numbers in this column, for columns of mass. */
  readonly unit: UnitName | null;
}

/**
 * A cell read, or why it could not be: never a guess, never a throw. `unread`:
 * something stands in the cell, and it gave no value.
 */
export type CellOutcome =
  | { readonly value: unknown; readonly notice?: NoticeParts; readonly unread?: true }
  | { readonly reason: NoticeParts; readonly suggestion: NoticeParts };

export type NoticeParts = Pick<Notice, "code" | "parameters">;

/**
 * Reads one cell as its column says. A blank cell that is not needed is `null`;
 * so is one that says "not known" in words, but marked as unread: unknown is
 * not what a blank means. An error of a spreadsheet cannot be read.
 */
export function readCell(cell: string, how: ColumnReading): CellOutcome {
  const { column } = how;
  const text = column.holds === "text" || column.holds === "value" ? cell.trim() : cleanText(cell);
  if (text === "") {
    if (column.required) return fault("records-empty-cell", "suggest-fill-cell", {});
    return { value: blankValue(column) };
  }
  // A word an order is written in is kept as written, whatever it means elsewhere.
  if (column.holds.startsWith("ordered")) return orderCell(text, how);
  const word = wordIn(text, column);
  if (word === "error of a spreadsheet")
    return fault("records-error-cell", "suggest-error-cell", { written: text });
  if (word === "not known") {
    if (column.required || column.neededWhenWritten)
      return fault("records-says-unknown", "suggest-fill-cell", { written: text });
    return { value: blankValue(column), unread: true };
  }
  switch (column.holds) {
    case "id":
    case "text":
    case "value":
      return { value: tidy(text) };
    case "number":
      if (word === "none" && column.noneIsZero) return { value: 0 };
      return readNumberCell(text, how);
    case "instant":
    case "day start":
      return readTimeCell(text, how);
    case "date":
      return readDateCell(text, how);
    case "rough date":
      return readRoughDateCell(text, how);
    case "choice":
      return readChoice(text, column);
    default:
      return orderCell(text, how);
  }
}

function orderCell(text: string, how: ColumnReading): CellOutcome {
  const read = readOrderCell(text, { ...how, holds: how.column.holds });
  if (read === null || read.value !== null) return { value: read };
  const parameters = { value: read.words };
  return { value: read, notice: { code: "records-order-as-written", parameters } };
}

/** What stands in a row where a cell is blank or gave nothing. */
export function blankValue(column: Column): unknown {
  return column.blankIs ?? null;
}

/** Makes a notice of its parts, at its place. */
export function placed(parts: NoticeParts, level: Notice["level"], place: Place): Notice {
  return { code: parts.code, level, parameters: parts.parameters, place };
}

/** What a word of the common list means in this column; notes and values are kept as written. */
function wordIn(text: string, column: Column): CellWords["meaning"] | null {
  switch (column.holds) {
    case "value":
      return null;
    case "text":
      return column.name === "species" || meaningOfName(text) !== "not known"
        ? meaningOfName(text)
        : null;
    case "id":
      return meaningOfName(text);
    case "choice": {
      const key = text.toLowerCase();
      const own = column.choices?.includes(key) || Object.hasOwn(column.alsoWritten ?? {}, key);
      return own ? null : meaningOf(text);
    }
    default:
      return meaningOf(text);
  }
}

const tidy = (text: string) => text.normalize("NFC").replace(/\s+/g, " ");

function fault<R extends NoticeCode, S extends NoticeCode, P extends ParametersOf<R | S>>(
  reason: R,
  suggestion: S,
  parameters: Exactly<R | S, P>,
): CellOutcome {
  return {
    reason: part<R | S, P>(reason, parameters),
    suggestion: part<R | S, P>(suggestion, parameters),
  };
}

function part<C extends NoticeCode, P extends ParametersOf<C>>(
  code: C,
  parameters: Exactly<C, P>,
): NoticeParts {
  return { code, parameters };
}

function readNumberCell(text: string, how: ColumnReading): CellOutcome {
  const { column } = how;
  // Patterns that look for a number in words take the square of their length.
  if (text.length > sizeLimits.numberLetters) return noNumber(text);
  const remark = remarkIn(text);
  const read = readQuantity(remark?.number ?? text, how.decimal);
  const alike = signsAlike(text, how.decimal);
  if (alike !== null)
    return fault("records-not-a-number", "suggest-signs-alike", { number: alike });
  if (read.kind === "not a number" || (read.kind === "unknown unit" && !/\p{L}/u.test(read.text)))
    return noNumber(text);
  if (read.kind === "unknown unit")
    return fault("records-unknown-unit", "suggest-known-unit", { unit: read.text });
  if (read.kind === "ambiguous")
    return fault("records-ambiguous-number", "suggest-one-reading", {
      first: read.readings[0],
      second: read.readings[1],
    });
  let value = read.value;
  const target =
    column.unit !== undefined && column.unit in units ? (column.unit as UnitName) : null;
  const from = read.unit ?? how.unit;
  if (target !== null && from !== null) {
    if (dimensionOf(from) !== dimensionOf(target))
      return fault("records-wrong-dimension", "suggest-unit-of", { unit: from, needed: target });
    value = convert(value, from, target);
  } else if (target === null && read.unit !== null) {
    return fault("records-unit-not-wanted", "suggest-bare-number", { unit: read.unit });
  }
  const out = { value, unit: column.unit ?? "" };
  if (value < 0 && (column.min ?? 0) >= 0)
    return fault("records-negative", "suggest-without-sign", { ...out, size: -value });
  if (column.above !== undefined && value <= column.above)
    return fault("records-not-above", "suggest-fill-cell", { ...out, above: column.above });
  if (column.min !== undefined && value < column.min)
    return fault("records-below", "suggest-check-value", { ...out, min: column.min });
  if (column.max !== undefined && value > column.max)
    return fault("records-too-large", "suggest-check-value", { ...out, max: column.max });
  if (remark?.words) return { value, notice: part("records-remark-in-cell", { written: text }) };
  if (powerOfTen.test(text))
    return {
      value,
      notice: part("records-power-of-ten", { written: text, value }),
    };
  return { value };
}

/** 1e3 is a thousand, but few write so by hand. */
const powerOfTen = /\d\.?e[+-]?\d/i;

/**
 * A number with a remark behind it, "60 (bottle leaked)". Not where the remark
 * holds a number of its own, or takes back or blurs the one before it: then a
 * person is asked.
 */
function remarkIn(text: string): { readonly number: string; readonly words: boolean } | null {
  if (!/[([;]|\s[-–—]\s/.test(text)) return null;
  const m =
    /^([^()[\];]*\d[^()[\];]*?)\s*(?:[([]([^\d()[\]]*)[)\]]|;([^\d;]*)|\s[-–—]\s([^\d]*))$/.exec(
      text,
    );
  const remark = (m?.[2] ?? m?.[3] ?? m?.[4] ?? "").trim();
  if (m === null) return null;
  if (unitNamed(remark) !== null) return { number: `${m[1]!} ${remark}`, words: false };
  if (!/\p{L}{2}/u.test(remark) || takenBack.test(remark)) return null;
  return { number: m[1]!, words: true };
}

const takenBack =
  /\b(?:not|no|never|wrong|error|mistake|cancel\p{L}*|void|skip\p{L}*|miss\p{L}*|or|about|approx\p{L}*|circa|ca|est\p{L}*|guess\p{L}*|perhaps|maybe|check|should|meant|total|unsure|unclear)\b|\?/iu;

/** The number that letters among digits may stand for (1O for 10), or null. */
function signsAlike(text: string, decimal: DecimalMark): string | null {
  if (!/[oOlI|]/.test(text) || !/\d/.test(text)) return null;
  const alike = text.replace(/[oO]/g, "0").replace(/[lI|]/g, "1");
  const litres = /\d\s*l$/.test(text);
  return !litres && readNumber(alike, decimal).kind === "number" ? alike : null;
}

function noNumber(text: string): CellOutcome {
  // A repeat of millions of digits overflows the stack of the pattern that meets it.
  const begin = text.slice(0, sizeLimits.numberLetters);
  const inside = /[-+]?\d+(?:[.,]\d+)?/.exec(begin)?.[0];
  return inside === undefined
    ? fault("records-not-a-number", "suggest-number", {})
    : fault("records-not-a-number", "suggest-number-inside", { number: inside });
}

function readTimeCell(text: string, how: ColumnReading): CellOutcome {
  const read = readTime(text, how.zone, how.dateStyle);
  switch (read.kind) {
    case "instant":
      if (!read.dateOnly) return { value: read.at };
      if (how.column.holds === "day start") {
        const date = readDate(text, how.dateStyle);
        const day = date.kind === "date" ? numberOfDate(date.day) : 0;
        return { value: localInstant(day * dayMs + how.startHour * hourMs, how.zone) };
      }
      return { value: read.at, notice: part("records-time-of-day-missing", {}) };
    case "does not exist":
      return fault("records-time-does-not-exist", "suggest-time-skipped", { zone: how.zone });
    case "happens twice":
      return fault("records-time-happens-twice", "suggest-offset", {
        zone: how.zone,
        first: offsetText(read.first, how.zone),
        second: offsetText(read.second, how.zone),
      });
    case "other date style":
      return fault("records-other-date-style", "suggest-date-style", { style: how.dateStyle });
    case "not a time": {
      // Where a time is not needed, a date with words behind it is still a date.
      const day = how.column.required ? null : dateBeforeWords(text, how);
      return day === null
        ? fault("records-not-a-time", "suggest-time-form", { style: how.dateStyle })
        : { value: localNoon(day, how.zone), notice: part("records-time-of-day-missing", {}) };
    }
  }
}

function dateBeforeWords(text: string, how: ColumnReading): string | null {
  const m = /^(.*\d)[\s,]+[^\d]+$/.exec(text);
  const read = m === null ? null : readDate(m[1]!, how.dateStyle);
  return read?.kind === "date" ? read.day : null;
}

function offsetText(at: number, zone: string): string {
  const local = Date.parse(`${localText(at, zone).replace(" ", "T")}Z`);
  const minutes = Math.round((local - Math.floor(at / minuteMs) * minuteMs) / minuteMs);
  const size = Math.abs(minutes);
  const two = (n: number) => String(n).padStart(2, "0");
  return `${localText(at, zone)}${minutes < 0 ? "-" : "+"}${two(Math.floor(size / 60))}:${two(size % 60)}`;
}

function readDateCell(text: string, how: ColumnReading): CellOutcome {
  const read = readDate(text, how.dateStyle);
  if (read.kind === "date") return { value: read.day };
  // A date with a clock time behind it is still a date.
  const head = readDate(text.split(/[T\s]/)[0] ?? "", how.dateStyle);
  if (head.kind === "date" && readTime(text, how.zone, how.dateStyle).kind !== "not a time")
    return { value: head.day };
  return read.kind === "other date style"
    ? fault("records-other-date-style", "suggest-date-style", { style: how.dateStyle })
    : fault("records-not-a-date", "suggest-date-form", { style: how.dateStyle });
}

/** A birth date may be known only roughly; the arrival, another cell, may be needed to read it. */
function readRoughDateCell(text: string, how: ColumnReading): CellOutcome {
  const exact = readDateCell(text, how);
  if ("value" in exact) return { value: { kind: "days", from: exact.value, to: exact.value } };
  const rough = readRoughDate(text, how.dateStyle);
  return rough.kind === "not a date" ? exact : { value: rough };
}

function readChoice(text: string, column: Column): CellOutcome {
  const key = tidy(text).toLowerCase().replaceAll("_", " ");
  const choices = column.choices ?? [];
  const other = column.alsoWritten ?? {};
  const found = choices.includes(key) ? key : Object.hasOwn(other, key) ? other[key] : undefined;
  if (found !== undefined) return { value: found };
  if (column.required) return fault("records-unknown-choice", "suggest-choices", { choices });
  return {
    value: blankValue(column),
    unread: true,
    notice: part("records-choice-left-blank", { written: text, choices }),
  };
}
