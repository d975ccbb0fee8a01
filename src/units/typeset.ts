import { months } from "./format-date.js";

const month = `(?:${months.join("|")})`;
const unit = "(?:g|kg|mL|kcal|kJ|g\\/d|kcal\\/d|%|%\\/d|°C|h|d|min|days?|hours?|weeks?)";
/** Parts inside which no line may break: dates, a number with its unit, a range. */
const whole: readonly RegExp[] = [
  new RegExp(`\\b\\d{1,2} ${month}\\b(?: \\d{4}\\b)?(?: \\d{2}:\\d{2})?`, "gu"),
  new RegExp(`\\d ${unit}(?![\\p{L}\\p{N}])`, "gu"),
  /[\d%C] to [−\d]/gu,
];

const datesOf = (year: string) =>
  new RegExp(`(\\b\\d{1,2}[ \u00a0]${month})[ \u00a0]${year}\\b`, "gu");

/**
 * Whether a text holds a date of that year.
 *
 * @example yearIn("records end at 17 Jul 2025 04:55", "2025") // true
 */
export function yearIn(text: string, year: string): boolean {
  return datesOf(year).test(text);
}

/**
 * Texts in reading order of which only the first date keeps the page's own year.
 *
 * @example withYearOnce(["16 Jul 2025", "records up to 17 Jul 2025 04:55"], "2025") // ["16 Jul 2025", "records up to 17 Jul 04:55"]
 */
export function withYearOnce(texts: readonly string[], year: string): string[] {
  let stands = false;
  return texts.map((text) =>
    text.replace(datesOf(year), (whole, day: string) => {
      if (stands) return day;
      stands = true;
      return whole;
    }),
  );
}

/**
 * Text as it stands on a page: nothing breaks between a number and its unit,
 * inside a date or around the "to" of a range; the page's own year, which
 * stands once in its first line, is left out of its dates.
 *
 * @example typeset("2 May 2025: 17 g/d", "2025") // "2 May: 17 g/d", with no-break spaces
 */
export function typeset(text: string, year?: string): string {
  const short = year === undefined ? text : text.replace(datesOf(year), "$1");
  return whole.reduce(
    (so, part) => so.replace(part, (text) => text.replaceAll(" ", "\u00a0")),
    short,
  );
}
