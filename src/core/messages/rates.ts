import type { Sentence } from "../wording.js";

/** Sentences of the `rates` room, by notice code. */
export const rateMessages = {
  "gain-no-time-between": (p) =>
    `No gain is computed between ${p.instant("from")} and ${p.instant("to")}: no time passed.`,
  "gain-mass-not-positive": (p) =>
    `No gain is computed from ${p.number("first")} g to ${p.number("second")} g: both must be above zero.`,
  "gain-few-weighings": (p) =>
    `${p.text("n")} weighed days in the last ${p.text("days")} days; a gain needs ${p.text("needed")}.`,
  "gain-short-span": (p) =>
    `The weighings cover only ${p.number("span", 3)} of ${p.text("days")} days, too short a span for a gain.`,
  "gain-age-not-positive": (p) => `The age of ${p.number("age")} d must be above zero.`,
  "gain-age-outside-adjustment": (p) =>
    `The age of ${p.number("age")} d lies outside ${p.text("youngest")} to ${p.text("oldest")} d, so the mass is not adjusted to a standard age.`,
} satisfies Readonly<Record<string, Sentence>>;
