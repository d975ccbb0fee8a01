import { shortened } from "../core/shortened.js";
import { sizeLimits } from "../core/size-limits.js";

/**
 * Text as a terminal may be given it. A cell, a name of a file or a word typed may hold
 * signs that steer a screen (colours, the cursor, the direction of writing) and could
 * rewrite what stands on it: they are shown as what they are.
 *
 * @example onScreen("a\u001b[2Jb\u202e") // "a␛[2Jb<202E>"
 */
export function onScreen(text: string): string {
  return text.replace(steering, (sign) => {
    const code = sign.charCodeAt(0);
    if (code < 0x20) return String.fromCharCode(0x2400 + code);
    return code === 0x7f ? "\u2421" : `<${code.toString(16).toUpperCase().padStart(4, "0")}>`;
  });
}

/** A name or a cell within a line of the screen: its own line breaks begin no new one. */
export const inLine = (text: string): string => onScreen(text.replace(/[\t\n]+/g, " "));

/**
 * JSON as a terminal may be given it: the same signs in the other way of writing them that
 * JSON has, so that nothing of them is lost.
 */
export function jsonOnScreen(json: string): string {
  return json.replace(steering, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`);
}

// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for.
const steering = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069]/g;

/** A sentence that repeats what was written, none of it longer than a reader needs. */
export function withoutLongQuotes(text: string): string {
  const most = sizeLimits.repeatedLetters;
  return text
    .replace(/"[^"]*"/g, (quote) =>
      quote.length > most + 2 ? `"${shortened(quote.slice(1, -1), most)}"` : quote,
    )
    .replace(/[^\s"]+/g, (word) => shortened(word, 2 * most));
}

/** Prints lines for a person; the one way out for what commands say. */
export const sayLines = (text: string): void => console.log(onScreen(text));

/** Prints lines about what went wrong. */
export const sayWrong = (text: string): void => console.error(onScreen(text));

/** Prints an answer for a program. */
export const sayJson = (value: unknown): void => console.log(jsonOnScreen(JSON.stringify(value)));
