import { normalInterval } from "./measured.js";
import type { Notice } from "./notice.js";
import { sentences } from "./sentences.js";
import {
  type Given,
  type NoticeParameter,
  plainWording,
  type Sentence,
  type Wording,
} from "./wording.js";

/** By any code, with no type of its own for each: their union is more than a compiler holds. */
const byCode: Readonly<Record<string, Sentence>> = sentences;

/**
 * Turns a notice into its sentence.
 *
 * @example noticeText(notice("series-no-weighings", "problem", { animal: "P1" }))
 */
export function noticeText(n: Notice, wording: Wording = plainWording): string {
  const sentence = Object.hasOwn(byCode, n.code) ? byCode[n.code] : undefined;
  // Results may have been written by another version, with codes unknown here.
  if (sentence === undefined) return n.code;
  return (sentence as (p: unknown) => string)(readerOf(n, wording));
}

/**
 * The sentence of a code as it stands in the catalogue, with the names of what it is
 * given in place of values; null for a code that has none.
 *
 * @example sentenceShape("flag-phase-arrival") // "<animal> is in its arrival phase ..."
 */
export function sentenceShape(code: string): string | null {
  const sentence = Object.hasOwn(byCode, code) ? byCode[code] : undefined;
  if (sentence === undefined) return null;
  const open = (name: string) => `<${name}>`;
  const shape: Given<Readonly<Record<string, NoticeParameter | undefined>>> = {
    raw: () => undefined,
    text: open,
    number: open,
    instant: open,
    list: open,
    amount: (name, unit) => `${open(name)} ${unit}`,
    interval: (name, lower, upper, unit) =>
      `${open(name)} ${unit} (${open(lower)} to ${open(upper)})`,
    rounded: (name, lower, upper) => ({
      value: open(name),
      range: `${open(lower)} to ${open(upper)}`,
    }),
    estimate: (name, _error, unit) => `${open(name)} ${unit} (95 % interval)`,
    range: (low, high) => `${open(low)} to ${open(high)}`,
    count: (name, one, many = `${one}s`) => `${open(name)} ${many}`,
    agree: (_name, _one, many) => many,
  };
  return (sentence as (p: unknown) => string)(shape);
}

function readerOf(
  { parameters }: Notice,
  wording: Wording,
): Given<Readonly<Record<string, NoticeParameter | undefined>>> {
  const raw = (name: string) => (Object.hasOwn(parameters, name) ? parameters[name] : undefined);
  const asText = (value: unknown, name = ""): string =>
    value === undefined || value === null
      ? "?"
      : Array.isArray(value)
        ? wording.list(value)
        : typeof value === "number"
          ? wording.number(value)
          : asWritten.has(name)
            ? String(value)
            : wording.text(String(value));
  return {
    raw,
    text: (name) => asText(raw(name), name),
    number: (name, digits) => {
      const value = raw(name);
      return typeof value === "number" ? wording.number(value, digits) : asText(value);
    },
    amount: (name, unit) => {
      const value = raw(name);
      return typeof value === "number" ? wording.amount(value, unit) : asText(value);
    },
    interval: (name, lower, upper, unit) => {
      const [value, from, to] = [raw(name), raw(lower), raw(upper)];
      return typeof value === "number" && typeof from === "number" && typeof to === "number"
        ? wording.interval(value, from, to, unit)
        : `${asText(value)} ${unit}`;
    },
    rounded: (name, lower, upper, unit) => {
      const [value, from, to] = [raw(name), raw(lower), raw(upper)];
      const end = (x: unknown) => (typeof x === "number" ? x : null);
      return typeof value === "number"
        ? wording.rounded(value, end(from), end(to), unit)
        : { value: asText(value), range: `${asText(from)} to ${asText(to)}` };
    },
    estimate: (name, error, unit) => {
      const [value, se] = [raw(name), raw(error)];
      if (typeof value !== "number") return `${asText(value)} ${unit}`;
      if (typeof se !== "number") return wording.amount(value, unit);
      const { lower, upper } = normalInterval(value, se);
      return wording.interval(value, lower ?? value, upper ?? value, unit);
    },
    range: (low, high, digits) => {
      const [from, to] = [low, high].map((name) => {
        const value = raw(name);
        return typeof value === "number" ? wording.number(value, digits) : asText(value);
      });
      return from === to ? from! : `${from} to ${to}`;
    },
    count: (name, one, many = `${one}s`) => {
      const value = raw(name);
      // What is counted in parts (days between two instants) is no finer than people say it.
      const digits = Number.isInteger(value) ? 15 : 3;
      const said = typeof value === "number" ? wording.number(value, digits) : asText(value);
      return `${said} ${value === 1 || said === "1" ? one : many}`;
    },
    agree: (name, one, many) => (raw(name) === 1 ? one : many),
    instant: (name) => {
      const value = raw(name);
      return typeof value === "number" ? wording.instant(value) : asText(value);
    },
    list: (name) => asText(raw(name)),
  };
}

/** What was read in a file is repeated letter by letter, also where it looks like a day. */
const asWritten: ReadonlySet<string> = new Set(["value", "written", "newValue", "example", "cell"]);
