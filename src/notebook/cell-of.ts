import type { Measured } from "../core/measured.js";
import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";
import { isMeasured } from "../report/section/section.js";
import { localText } from "../units/format.js";

/**
 * What any value says in one cell. Never throws: what has no words of its own is called by
 * what it is.
 *
 * @example cellOf({ grams: [1, 2] }) // '{"grams":[1,2]}'
 */
export function cellOf(value: unknown): string | number | boolean | null | Measured {
  if (value === undefined || value === null) return null;
  if (typeof value === "string" || typeof value === "number" || typeof value === "boolean")
    return value;
  if (typeof value === "bigint" || typeof value === "symbol") return String(value);
  if (typeof value === "function") return `a function${value.name === "" ? "" : ` ${value.name}`}`;
  if (isMeasured(value)) return value;
  const words = ownWords(value);
  if (words !== null) return words;
  if (Array.isArray(value))
    return value.every((each) => typeof each !== "object" && typeof each !== "symbol")
      ? value.join(", ")
      : entries(value.length);
  return shortJson(value);
}

/** Values of the language that hold no fields of their own to show; null for any other. */
export function ownWords(value: unknown): string | null {
  if (value instanceof Date) return Number.isNaN(value.getTime()) ? "no date" : value.toISOString();
  if (value instanceof Error) return `${value.name}: ${value.message}`;
  if (value instanceof RegExp || value instanceof URL) return String(value);
  if (value instanceof Map || value instanceof Set)
    return `${entries(value.size)}; shown as [...it]`;
  return null;
}

const entries = (n: number) => (n === 1 ? "1 entry" : `${n} entries`);

/** Fields of the records that hold an instant in milliseconds. */
const instantField = /^(at|from|to|[a-z]+At)$/;

/**
 * One field of a plain row: an instant in milliseconds as a date one can read.
 *
 * @example fieldCell("at", Date.UTC(2025, 2, 6, 9)) // "2025-03-06 09:00 UTC"
 */
export function fieldCell(key: string, value: unknown): ReturnType<typeof cellOf> {
  const isInstant =
    typeof value === "number" && instantField.test(key) && Math.abs(value) > 1e11 && value < 8e15;
  return isInstant ? `${localText(value, "UTC")} UTC` : cellOf(value);
}

function shortJson(value: object): string {
  try {
    const json = JSON.stringify(value, (_, each) =>
      typeof each === "bigint" ? String(each) : (each as unknown),
    );
    if (json === undefined) return "an object";
    return shortened(json, sizeLimits.objectLetters);
  } catch {
    // It holds itself, or answers no questions.
    return "an object that cannot be written out";
  }
}
