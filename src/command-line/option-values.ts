import type { Command } from "commander";
import { UsageError } from "../core/usage-error.js";
import { isCivilDate } from "../units/calendar.js";
import { nearestDay } from "../units/nearest-day.js";

/** A mistake in an option, in the words of every other one: needed, came, where, what to do. */
function wrongOption(
  option: string,
  needed: string,
  came: string,
  example: string,
  isMeant = false,
): UsageError {
  return new UsageError({
    needed,
    came: `"${came}" was given`,
    where: option,
    todo: isMeant
      ? `Is ${example} meant? Write ${option} ${example}.`
      : `Write for example ${option} ${example}.`,
  });
}

/**
 * A whole number from an option.
 *
 * @throws UsageError where it is none, or below `least`.
 * @example wholeNumber("--seed", "7") // 7
 */
export function wholeNumber(option: string, text: string, least = 0): number {
  const value = /^\d{1,15}$/.test(text.trim()) ? Number(text) : Number.NaN;
  if (!(value >= least))
    throw wrongOption(option, `a whole number from ${least} on`, text, String(Math.max(1, least)));
  return value;
}

/**
 * Refuses an argument or option of which nothing was typed, whatever it is: as a path it
 * would be the folder one stands in, as a name one that nobody can ask for again.
 *
 * @param asked the command that was named, its line read.
 * @throws UsageError naming the first.
 */
export function refuseBlanks(asked: Command): void {
  const values = asked.opts<Record<string, unknown>>();
  const places = [
    ...asked.registeredArguments.map((each, i) => ({
      where: `${asked.name()}, <${each.name()}>`,
      value: asked.processedArgs[i] as unknown,
      is: each.description,
    })),
    ...asked.options.map((each) => ({
      where: each.long ?? each.flags,
      value: values[each.attributeName()],
      is: each.description,
    })),
  ];
  for (const { where, value, is } of places)
    for (const word of Array.isArray(value) ? (value as unknown[]) : [value])
      if (typeof word === "string" && word.trim() === "")
        throw new UsageError({
          needed: "something written here",
          came: `"${word}" was given`,
          where,
          todo: `It says: ${is.replace(/\.$/, "")}.`,
        });
}

/**
 * A page's file that was typed: browsers know a page by its ending.
 *
 * @throws UsageError where it ends otherwise.
 * @example pageGiven("--out", "out/day.html") // "out/day.html"
 */
export function pageGiven(option: string, file: string): string {
  if (/\.html?$/i.test(file)) return file;
  throw wrongOption(
    option,
    "a file that ends in .html",
    file,
    `${file.replace(/[\\/.]+$/, "")}.html`,
  );
}

/**
 * A civil date from an option, YYYY-MM-DD.
 *
 * @throws UsageError for a day that is none.
 * @example civilDay("--on", "2026-01-31") // "2026-01-31"
 */
export function civilDay(option: string, text: string): string {
  if (isCivilDate(text)) return text;
  const near = nearestDay(text);
  throw wrongOption(option, "a day as YYYY-MM-DD", text, near ?? "2026-01-31", near !== null);
}

/**
 * A window of ages, the younger first.
 *
 * @throws UsageError where it is none.
 * @example agesBetween("--ages", "21-63") // { fromAgeD: 21, toAgeD: 63 }
 */
export function agesBetween(option: string, text: string): { fromAgeD: number; toAgeD: number } {
  const parts = /^(\d{1,5})-(\d{1,5})$/.exec(text);
  const [fromAgeD, toAgeD] = [Number(parts?.[1]), Number(parts?.[2])];
  if (!(toAgeD > fromAgeD))
    throw wrongOption(option, "two ages in days, the younger first", text, "21-63");
  return { fromAgeD, toAgeD };
}

/**
 * `name=value` pairs; the notebook's own default says whether it is a text, a number or a yes.
 *
 * @throws UsageError for one without its sign.
 * @example namedValues("--set", ["animal=O25-04"]) // { animal: "O25-04" }
 */
export function namedValues(option: string, pairs: readonly string[]): Record<string, string> {
  return Object.fromEntries(
    pairs.map((pair) => {
      const at = pair.indexOf("=");
      if (at < 1) throw wrongOption(option, "name=value", pair, "animal=Mica");
      return [pair.slice(0, at), pair.slice(at + 1)];
    }),
  );
}
