import type { Notice } from "./notice.js";
import { sentences } from "./sentences.js";
import { type Given, type NoticeParameter, plainWording, type Wording } from "./wording.js";

/**
 * Turns a notice into its sentence.
 *
 * @example noticeText(notice("series-no-weighings", "problem", { animal: "P1" }))
 */
export function noticeText(n: Notice, wording: Wording = plainWording): string {
  const sentence = Object.hasOwn(sentences, n.code) ? sentences[n.code] : undefined;
  // Results may have been written by another version, with codes unknown here.
  if (sentence === undefined) return n.code;
  return (sentence as (p: unknown) => string)(readerOf(n, wording));
}

function readerOf(
  { parameters }: Notice,
  wording: Wording,
): Given<Readonly<Record<string, NoticeParameter | undefined>>> {
  const raw = (name: string) => (Object.hasOwn(parameters, name) ? parameters[name] : undefined);
  const asText = (value: unknown): string =>
    value === undefined || value === null
      ? "?"
      : Array.isArray(value)
        ? wording.list(value)
        : typeof value === "number"
          ? wording.number(value)
          : String(value);
  return {
    raw,
    text: (name) => asText(raw(name)),
    number: (name, digits) => {
      const value = raw(name);
      return typeof value === "number" ? wording.number(value, digits) : asText(value);
    },
    instant: (name) => {
      const value = raw(name);
      return typeof value === "number" ? wording.instant(value) : asText(value);
    },
    list: (name) => asText(raw(name)),
  };
}
