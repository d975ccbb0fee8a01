/**
 * How people write what the table of plans holds, as data: the reader of its
 * cells, the README and the data dictionary are made from these lists alone.
 */

/** Nothing by mouth, in the diet or in an amount. Lower case, dots and hyphens left out. */
export const nilByMouthWords: readonly string[] = [
  "nil by mouth",
  "nothing by mouth",
  "nil per os",
  "nothing per os",
  "no food",
  "nbm",
  "npo",
  "nil",
  "fast",
  "fasted",
  "fasting",
  "nothing",
  "nothing orally",
  "do not feed",
  "dont feed",
  "not to be fed",
  "no feed",
  "no feeds",
  "no feeding",
  "hold food",
  "hold feed",
  "hold feeds",
  "hold feeding",
  "withhold",
  "withheld",
  "withhold food",
  "withhold feed",
  "withhold feeds",
  "food withheld",
  "feeds withheld",
  "nüchtern",
  "nichts per os",
  "nahrungskarenz",
  "à jeun",
  "en ayunas",
];

/** Words that order nothing by mouth only where they stand alone, or before a time or a reason. */
const aloneOnly: ReadonlySet<string> = new Set([
  "nil",
  "fast",
  "fasted",
  "nothing",
  "no food",
  "no feed",
  "no feeds",
  "withhold",
  "withheld",
  "à jeun",
]);

/** What may follow them: until when, since when, why. */
const followers = "until|till|from|after|before|for|since|pending|due|per|tonight|today|overnight";

/** An end that is none: the order holds until another one replaces it. */
export const openEndWords: readonly string[] = [
  "until replaced",
  "until further notice",
  "further notice",
  "ongoing",
  "open",
  "continue",
  "cont",
];

/** Feeds a day in one word. Latin short forms are those of every prescription. */
export const feedsADayWords: Readonly<Record<string, number>> = {
  once: 1,
  twice: 2,
  "three times": 3,
  "four times": 4,
  sid: 1,
  od: 1,
  bid: 2,
  bd: 2,
  tid: 3,
  tds: 3,
  qid: 4,
  qds: 4,
};

/** Clock times in one word. */
export const clockWords: Readonly<Record<string, string>> = {
  midnight: "00:00",
  noon: "12:00",
  midday: "12:00",
};

/** Days of the week, Monday first. */
export const weekdayWords: readonly (readonly string[])[] = [
  ["monday", "mon", "mo"],
  ["tuesday", "tues", "tue", "tu"],
  ["wednesday", "weds", "wed", "we"],
  ["thursday", "thurs", "thur", "thu", "th"],
  ["friday", "fri", "fr"],
  ["saturday", "sat", "sa"],
  ["sunday", "sun", "su"],
];

/** Sets of days in one word: 1 is Monday, 7 Sunday. */
export const daySetWords: Readonly<Record<string, readonly number[]>> = {
  daily: [1, 2, 3, 4, 5, 6, 7],
  "every day": [1, 2, 3, 4, 5, 6, 7],
  weekdays: [1, 2, 3, 4, 5],
  weekend: [6, 7],
  weekends: [6, 7],
};

/** Every so many days, counted from the day the order begins. */
export const everyDaysWords: Readonly<Record<string, number>> = {
  "every other day": 2,
  "every second day": 2,
  "every third day": 3,
  "alternate days": 2,
  eod: 2,
  qod: 2,
};

/** Lower case, one blank between words, dots and hyphens of short forms left out. */
export function plainWords(text: string): string {
  return text
    .normalize("NFKC")
    .toLowerCase()
    .replace(/(?<=\p{L})[.](?=\p{L}|\s|$)/gu, "")
    .replace(/[-_/]+(?=\p{L})/gu, " ")
    .replace(/[.!:;]+$/, "")
    .replace(/\s+/g, " ")
    .trim();
}

/** Whether a cell orders nothing by mouth. @example saysNilByMouth("N.P.O.") // true */
export function saysNilByMouth(text: string): boolean {
  const plain = bare(text);
  if (nilByMouthWords.includes(plain)) return true;
  // "NPO (surgery)", "nothing until the vet has seen it": the worse meaning counts, and it is asked.
  return (
    mentionsNilByMouth(text) ||
    [...aloneOnly].some((word) => new RegExp(`^${word} (?:${followers})\\b`).test(plain))
  );
}

/** Whether a cell that orders nothing by mouth says more than that. @example saysMoreThanNil("NPO after 22:00") // true */
export function saysMoreThanNil(text: string): boolean {
  return !nilByMouthWords.includes(bare(text));
}

const bare = (text: string) =>
  plainWords(text.replace(/[()[\]"'’,;]/g, " "))
    .replace(/\s+/g, " ")
    .trim();

/** Whether nothing by mouth stands anywhere in a longer text. @example mentionsNilByMouth("NPO from 22:00") // true */
export function mentionsNilByMouth(text: string): boolean {
  const plain = ` ${plainWords(text).replace(/[^\p{L}\d]+/gu, " ")} `;
  const telling = nilByMouthWords.filter((w) => !aloneOnly.has(w));
  return telling.some((words) => plain.includes(` ${words} `));
}

export interface SpellingRow {
  readonly column: string;
  readonly written: string;
  readonly readAs: string;
}

/** Every accepted spelling of the table of plans, for the README and the data dictionary. */
export function orderSpellings(): SpellingRow[] {
  const amount = "g_per_feed, ml_per_feed, g_per_day";
  const times = (n: number) => `${n} ${n === 1 ? "feed" : "feeds"} a day`;
  const dayNames = weekdayWords.map(([name]) => name!);
  const days = (set: readonly number[]) => set.map((n) => dayNames[n - 1]).join(", ");
  return [
    { column: amount, written: "46", readAs: "46 in the unit of the column" },
    {
      column: amount,
      written: "46 g, 0.046 kg, 1.6 oz, 45 mL, 60 kcal, 250 kJ",
      readAs: "as written, printed in that unit",
    },
    { column: amount, written: "0", readAs: "this diet is ended; the only diet: nothing by mouth" },
    {
      column: `diet_id, ${amount}`,
      written: nilByMouthWords.join(", "),
      readAs: "nothing by mouth",
    },
    { column: "feeds_per_day", written: "8, 8x, x8, 8 times, 8 feeds, 8/d", readAs: times(8) },
    { column: "feeds_per_day", written: "q3h, every 3 h, 3-hourly", readAs: times(8) },
    ...Object.entries(feedsADayWords).map(([written, n]) => ({
      column: "feeds_per_day",
      written,
      readAs: times(n),
    })),
    {
      column: "feed_times",
      written: "06:00 09:00, 6.00, 6h00, 0600, 6 am, 3pm, 6; with blank, comma, ; or / between",
      readAs: "local clock times",
    },
    ...Object.entries(clockWords).map(([written, readAs]) => ({
      column: "feed_times",
      written,
      readAs,
    })),
    ...weekdayWords.map((words) => ({
      column: "days",
      written: words.join(", "),
      readAs: words[0]!,
    })),
    { column: "days", written: "Mon-Fri, Sat to Mon", readAs: "from the one to the other" },
    ...Object.entries(daySetWords).map(([written, set]) => ({
      column: "days",
      written,
      readAs: days(set),
    })),
    ...Object.entries(everyDaysWords).map(([written, n]) => ({
      column: "days",
      written,
      readAs: `every ${n} days from the day the order begins`,
    })),
    { column: "days", written: "every 3 days", readAs: "every 3 days from the day it begins" },
    { column: "to", written: "a date", readAs: "the whole of that feeding day is included" },
    { column: "to", written: `blank, ${openEndWords.join(", ")}`, readAs: "until replaced" },
  ];
}
