import { type Notice, type NoticeParameter, notice, type Place } from "../core/notice.js";
import { localInstant, numberOfDate } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { localText } from "../units/format.js";
import { convert, dimensionOf, type UnitName, units } from "../units/quantity.js";
import { type DecimalMark, readQuantity } from "../units/read-quantity.js";
import { type DateStyle, readDate, readTime } from "../units/read-time.js";
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

/** A cell read, or why it could not be: never a guess, never a throw. */
export type CellOutcome =
  | { readonly value: unknown; readonly notice?: NoticeParts }
  | { readonly reason: NoticeParts; readonly suggestion: NoticeParts };

export interface NoticeParts {
  readonly code: string;
  readonly parameters?: Readonly<Record<string, NoticeParameter>>;
}

/** Reads one cell as its column says. A blank optional cell is `null`. */
export function readCell(cell: string, how: ColumnReading): CellOutcome {
  const { column } = how;
  const text = cell.trim();
  if (text === "" || isMissingWord(text, column)) {
    if (!column.required) return { value: column.blankIs ?? null };
    return fault("records-empty-cell", "suggest-fill-cell");
  }
  switch (column.holds) {
    case "id":
    case "text":
    case "value":
      return { value: tidy(text) };
    case "number":
      return readNumberCell(text, how);
    case "instant":
    case "day start":
      return readTimeCell(text, how);
    case "date":
      return readDateCell(text, how);
    case "choice":
      return readChoice(text, column);
    default: {
      const read = readOrderCell(text, { ...how, holds: column.holds });
      if (read === null || read.value !== null) return { value: read };
      const parameters = { value: read.words };
      return { value: read, notice: { code: "records-order-as-written", parameters } };
    }
  }
}

/** Makes a notice of its parts, at its place. */
export function placed(parts: NoticeParts, level: Notice["level"], place: Place): Notice {
  return notice(parts.code, level, parts.parameters ?? {}, place);
}

/** Words people write for "nothing known". A name may well be one of them. */
const missingWords = new Set(["na", "n/a", "nan", "null", "-", "--", "?", "unknown"]);
function isMissingWord(text: string, column: Column): boolean {
  if (column.holds === "number" || column.holds === "date" || column.holds === "instant")
    return missingWords.has(text.toLowerCase());
  return false;
}

const tidy = (text: string) => text.normalize("NFC").replace(/\s+/g, " ");

function fault(
  reason: string,
  suggestion: string,
  parameters: NoticeParts["parameters"] = {},
): CellOutcome {
  return { reason: { code: reason, parameters }, suggestion: { code: suggestion, parameters } };
}

function readNumberCell(text: string, how: ColumnReading): CellOutcome {
  const { column } = how;
  const read = readQuantity(text, how.decimal);
  if (read.kind === "not a number" || (read.kind === "unknown unit" && !/\p{L}/u.test(read.text))) {
    const inside = /[-+]?\d+(?:[.,]\d+)?/.exec(text)?.[0];
    return inside === undefined
      ? fault("records-not-a-number", "suggest-number")
      : fault("records-not-a-number", "suggest-number-inside", { number: inside });
  }
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
  return { value };
}

function readTimeCell(text: string, how: ColumnReading): CellOutcome {
  const read = readTime(text, how.zone, how.dateStyle);
  switch (read.kind) {
    case "instant":
      if (!read.dateOnly) return { value: read.at };
      if (how.column.holds === "day start") {
        const date = readDate(text, how.dateStyle);
        const day = date.kind === "date" ? numberOfDate(date.day) : 0;
        return { value: localInstant(day * dayMs + how.startHour * 3_600_000, how.zone) };
      }
      return { value: read.at, notice: { code: "records-time-of-day-missing" } };
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
    case "not a time":
      return fault("records-not-a-time", "suggest-time-form", { style: how.dateStyle });
  }
}

function offsetText(at: number, zone: string): string {
  const local = Date.parse(`${localText(at, zone).replace(" ", "T")}Z`);
  const minutes = Math.round((local - Math.floor(at / 60_000) * 60_000) / 60_000);
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

function readChoice(text: string, column: Column): CellOutcome {
  const key = tidy(text).toLowerCase().replaceAll("_", " ");
  const choices = column.choices ?? [];
  const other = column.alsoWritten ?? {};
  const found = choices.includes(key) ? key : Object.hasOwn(other, key) ? other[key] : undefined;
  if (found !== undefined) return { value: found };
  if (column.required) return fault("records-unknown-choice", "suggest-choices", { choices });
  return {
    value: column.blankIs ?? null,
    notice: { code: "records-choice-left-blank", parameters: { value: text, choices } },
  };
}
