import type { Given, Sentence } from "../wording.js";

/** Sentences of the command line, by notice code. */
export const commandMessages = {
  "notebook-needs-seasons": (p: Given<{ seasons: number }>) =>
    `needs animals of two seasons; ${p.raw("seasons") === 0 ? "none is written" : `${p.count("seasons", "is", "are")} written`}. Fill in the column season of the sheet "animals" for every animal, those of earlier years included.`,
  "notebook-needs-ages": (p: Given<{ animals: number; needed: number; days: number }>) =>
    `needs ${p.number("needed")} animals of one species with a birth date and at least ${p.number("days")} weighed days; ${p.count("animals", "is", "are")} there. Fill in birth_date_earliest and birth_date_latest of the sheet "animals" (not estimated from mass), and go on weighing.`,
  "notebook-needs-days": (p: Given<{ most: number; days: number }>) =>
    `needs an animal weighed on at least ${p.number("days")} days; the longest record has ${p.number("most")}. Go on weighing.`,
  "notebook-needs-weighing": () =>
    'needs a weighing of an animal; none could be read. Fill in the sheets "animals" and "weighings", then: gramline check',
} satisfies Readonly<Record<string, Sentence>>;
