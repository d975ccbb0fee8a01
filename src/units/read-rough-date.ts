import { addDays, type CivilDate } from "./calendar.js";
import { type DateStyle, monthNumber, readDate } from "./read-time.js";

/**
 * A date as roughly as it is known. Of a date without a year only the days of
 * the year are known; of an age at arrival only its distance from the arrival.
 */
export type RoughDate =
  | { readonly kind: "days"; readonly from: CivilDate; readonly to: CivilDate }
  | { readonly kind: "no year"; readonly inYear: (year: number) => RoughDate }
  | { readonly kind: "before arrival"; readonly least: number; readonly most: number }
  | { readonly kind: "not a date" };

/** Days that "about" leaves open on either side: our own choice, said in the notice. */
export const ABOUT_DAYS = 3;

/** Ways of writing a date roughly, for the data dictionary: what is written and what it is read as. */
export const roughDates: readonly { readonly written: string; readonly readAs: string }[] = [
  { written: "ca. 10 April 2024, ~2024-04-10, 10 April 2024?", readAs: "7 to 13 April 2024" },
  { written: "10-12 April 2024, between 10 and 12 April 2024", readAs: "10 to 12 April 2024" },
  { written: "early / mid / late April 2024", readAs: "1 to 10 / 11 to 20 / 21 to 30 April 2024" },
  { written: "April 2024, 2024-04, 04/2024", readAs: "1 to 30 April 2024" },
  { written: "2024", readAs: "1 January to 31 December 2024" },
  { written: "ca. 10 April", readAs: "the last 7 to 13 April before the arrival" },
  { written: "about 3 weeks before admission", readAs: "17.5 to 24.5 days before the arrival" },
];

/**
 * Reads a date that is known only roughly. An exact date is a range of one day.
 * What is open at one end ("before 10 April") is no range and is not read.
 *
 * @example readRoughDate("ca. 10 April 2024", "day-month-year") // { kind: "days", from: "2024-04-07", to: "2024-04-13" }
 */
export function readRoughDate(text: string, style: DateStyle): RoughDate {
  const t = text.trim().replace(/\s+/g, " ");
  const age = beforeArrival(t);
  if (age !== null) return age;
  const { bare, about } = withoutAbout(t);
  const read = exact(bare, style) ?? span(bare, style) ?? part(bare) ?? wholeMonth(bare);
  if (read === null) return { kind: "not a date" };
  return about ? widened(read) : read;
}

const aboutWord =
  /^(?:ca|c|circa|about|around|approx|approximately|roughly|probably|perhaps|maybe|est|estimated|near)\b\.?\s*|^[~≈±]\s*/i;
const aboutTail =
  /\s*(?:\?+|\(\s*(?:\?+|ca\.?|circa|about|approx\.?|approximately|est\.?|estimated|estimate|guess)\s*\)|(?:approx|est|estimated)\.?|\+\/-|±)$/i;

function withoutAbout(text: string): { bare: string; about: boolean } {
  const bare = text.replace(aboutWord, "").replace(aboutTail, "").trim();
  return { bare, about: bare !== text };
}

function widened(read: RoughDate): RoughDate {
  if (read.kind === "no year") return { kind: "no year", inYear: (y) => widened(read.inYear(y)) };
  if (read.kind !== "days") return read;
  return {
    kind: "days",
    from: addDays(read.from, -ABOUT_DAYS),
    to: addDays(read.to, ABOUT_DAYS),
  };
}

function exact(text: string, style: DateStyle): RoughDate | null {
  const read = readDate(text, style);
  if (read.kind === "date") return { kind: "days", from: read.day, to: read.day };
  return withoutYear(text, (whole) => exact(whole, style));
}

const NAME = "[A-Za-z]{3,9}";
const dayMonth = new RegExp(
  `^(?:\\d{1,2}(?:\\.|st|nd|rd|th)?(?: of)? ${NAME}|${NAME}\\.? \\d{1,2})\\.?$`,
  "i",
);

/** "10 April" and "April 10": a date once a year is put behind it. */
function withoutYear(text: string, read: (whole: string) => RoughDate | null): RoughDate | null {
  if (!dayMonth.test(text)) return null;
  const inYear = (year: number) => read(`${text.replace(/\.$/, "")} ${year}`);
  // A leap year takes every day that any year has.
  return inYear(2024) === null
    ? null
    : { kind: "no year", inYear: (year) => inYear(year) ?? { kind: "not a date" } };
}

const joint = "\\s*(?:-|–|—|/|to|and|or|until|till)\\s*";
const daysOfMonth = new RegExp(
  `^(?:between |from )?(\\d{1,2})\\.?${joint}(\\d{1,2})\\.? (${NAME})\\.?,?(?: (\\d{4}))?$`,
  "i",
);
const monthDays = new RegExp(
  `^(?:between |from )?(${NAME})\\.? (\\d{1,2})${joint}(\\d{1,2})(?:,? (\\d{4}))?$`,
  "i",
);
const twoDates =
  /^(?:between |from )?(.*\d.*?)\s*(?: - |–|—|\bto\b|\band\b|\bor\b|\.\.+|(?<=\d{4}-\d\d-\d\d)\/)\s*(.*\d.*)$/i;
const numericDays = /^(\d{1,2})\.?\s*[-–]\s*(\d{1,2})\.(\d{1,2})\.(\d{4})$/;

/** Two ends: "10-12 April 2024", "28 April to 2 May 2024", "10.-12.4.2024". */
function span(text: string, style: DateStyle): RoughDate | null {
  const d = daysOfMonth.exec(text);
  const m = monthDays.exec(text);
  const [a, b, month, year] =
    d !== null ? [d[1], d[2], d[3], d[4]] : [m?.[2], m?.[3], m?.[1], m?.[4]];
  if (a !== undefined && month !== undefined) {
    const inYear = (y: string | number) =>
      ends(exact(`${a} ${month} ${y}`, style), exact(`${b} ${month} ${y}`, style));
    if (year !== undefined) return inYear(year);
    return inYear(2024) === null
      ? null
      : { kind: "no year", inYear: (y) => inYear(y) ?? { kind: "not a date" } };
  }
  const n = numericDays.exec(text);
  if (n !== null && style === "day-month-year") {
    const day = (k: string) => exact(`${k}.${n[3]}.${n[4]}`, style);
    return ends(day(n[1]!), day(n[2]!));
  }
  const two = twoDates.exec(text);
  if (two === null) return null;
  const last = exact(two[2]!, style);
  const first = exact(two[1]!, style);
  const endYear = last?.kind === "days" ? +last.to.slice(0, 4) : null;
  return ends(first?.kind === "no year" && endYear !== null ? first.inYear(endYear) : first, last);
}

function ends(first: RoughDate | null, last: RoughDate | null): RoughDate | null {
  if (first?.kind !== "days" || last?.kind !== "days" || first.from > last.to) return null;
  return { kind: "days", from: first.from, to: last.to };
}

const partOfMonth = new RegExp(
  `^(early|beginning of|start of|mid|middle of|late|end of)[- ](?:in )?(${NAME})\\.?,?(?: (\\d{4}))?$`,
  "i",
);

function part(text: string): RoughDate | null {
  const m = partOfMonth.exec(text);
  const month = m === null ? 0 : monthNumber(m[2]!);
  if (m === null || month === 0) return null;
  const word = m[1]!.toLowerCase();
  const third = /^(early|beginning|start)/.test(word) ? 0 : word.startsWith("mid") ? 1 : 2;
  const inYear = (year: number): RoughDate => {
    const all = monthOf(year, month);
    const from = addDays(all.from, 10 * third);
    return { kind: "days", from, to: third === 2 ? all.to : addDays(from, 9) };
  };
  return m[3] === undefined ? { kind: "no year", inYear } : inYear(+m[3]);
}

const namedMonth = new RegExp(`^(${NAME})\\.?,?(?: (\\d{4}))?$`, "i");

/** A whole month ("April 2024", "2024-04", "04/2024") or year ("2024"). */
function wholeMonth(text: string): RoughDate | null {
  const year = /^(\d{4})$/.exec(text);
  if (year !== null && inReach(+text))
    return { kind: "days", from: `${text}-01-01`, to: `${text}-12-31` };
  const named = namedMonth.exec(text);
  const month = named === null ? 0 : monthNumber(named[1]!);
  if (named !== null && month > 0)
    return named[2] === undefined
      ? { kind: "no year", inYear: (y) => monthOf(y, month) }
      : monthOf(+named[2], month);
  const iso = /^(\d{4})[-/.](\d{1,2})$/.exec(text);
  const other = /^(\d{1,2})[-/.](\d{4})$/.exec(text);
  const [y, m] = iso !== null ? [+iso[1]!, +iso[2]!] : [+(other?.[2] ?? 0), +(other?.[1] ?? 0)];
  return inReach(y) && m >= 1 && m <= 12 ? monthOf(y, m) : null;
}

const inReach = (year: number) => year >= 1900 && year <= 2199;

function monthOf(year: number, month: number): RoughDate & { kind: "days" } {
  const two = (n: number) => String(n).padStart(2, "0");
  const from = `${year}-${two(month)}-01`;
  const next = month === 12 ? `${year + 1}-01-01` : `${year}-${two(month + 1)}-01`;
  return { kind: "days", from, to: addDays(next, -1) };
}

const ageAtArrival =
  /^(?:ca\.?|circa|about|around|approx\.?|approximately|roughly|~)?\s*(\d{1,3}|one|two|three|four|five|six|an?)(?:\s*(?:-|–|to)\s*(\d{1,3}))?\s*(days?|d|weeks?|wks?|w|months?)(?: old| of age)?,?\s*(?:at|on|before|prior to|ahead of)\s+(?:its |the |her |his )?(?:admission|arrival|intake)$/i;
const small = ["one", "two", "three", "four", "five", "six"];
const unitDays: Readonly<Record<string, number>> = { d: 1, w: 7, m: 30.4 };

/** "About 3 weeks before admission": half a unit either side. */
function beforeArrival(text: string): RoughDate | null {
  const m = ageAtArrival.exec(text);
  if (m === null) return null;
  const count = (word: string) =>
    /^\d/.test(word) ? +word : Math.max(1, small.indexOf(word.toLowerCase()) + 1);
  const unit = unitDays[m[3]!.charAt(0).toLowerCase()]!;
  const first = count(m[1]!);
  const last = m[2] === undefined ? first : +m[2];
  if (last < first) return null;
  return { kind: "before arrival", least: (first - 0.5) * unit, most: (last + 0.5) * unit };
}
