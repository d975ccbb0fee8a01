import type { Given, Sentence } from "../wording.js";

/** Sentences of the `reference` room, by notice code. */
export const referenceMessages = {
  "contemporaries-own-weighing-old": (p: Given<{ animal: string; days: number }>) =>
    `${p.text("animal")} has no weighing in the last ${p.count("days", "day")}, so it is not compared.`,
  "contemporaries-matched-by-mass": (p: Given<{ animal: string }>) =>
    `The age of ${p.text("animal")} is unknown or was estimated from mass: contemporaries are chosen by mass, and weight-for-age is not computed.`,
  "contemporaries-survivors": (p: Given<{ n: number; died: number }>) =>
    `${p.raw("n") === 1 ? "The one contemporary comes from an earlier season" : `Of ${p.number("n")} contemporaries some come from earlier seasons`}; ${p.text("died")} that died before reaching this age ${p.raw("died") === 1 ? "is" : "are"} missing, so the comparison is with survivors.`,
  "z-no-recent-weighing": (p: Given<{ animal: string }>) =>
    `${p.text("animal")} is not judged: it has no recent weighing in its usual record.`,
  "z-age-circular": (p: Given<{ animal: string }>) =>
    `Weight-for-age of ${p.text("animal")} is not computed: its age is unknown or was estimated from mass, which would be circular.`,
  "z-no-gain": (p: Given<{ animal: string }>) =>
    `The gain of ${p.text("animal")} is not judged: there are too few weighings in the window.`,
  "z-too-few-contemporaries": (p: Given<{ animal: string; n: number }>) =>
    `${p.text("animal")} is not compared: ${p.count("n", "contemporary", "contemporaries")} ${p.agree("n", "is", "are")} too few (3 are needed).`,
  "z-no-spread": (p: Given<{ animal: string; n: number }>) =>
    `${p.text("animal")} is not compared: its ${p.count("n", "contemporary", "contemporaries")} ${p.agree("n", "shows", "show")} no spread, so a deviation has no measure.`,
  "z-few-contemporaries": (p: Given<{ n: number }>) =>
    `Only ${p.count("n", "contemporary", "contemporaries")}: the cut-off is widened for so few (Student's t).`,
  "reference-outside": (
    p: Given<{ age: number; title: string; from: number | null; to: number | null }>,
  ) =>
    `Age ${p.number("age")} d lies outside the reference "${p.text("title")}" (${p.text("from")} to ${p.text("to")} d): no z is given, and the point is still drawn.`,
  "reference-few-animals": (p: Given<{ title: string; n: number }>) =>
    `The reference "${p.text("title")}" stands on ${p.count("n", "animal")} only; its outer centiles are rough.`,
  "reference-mass-not-positive": (p: Given<{ mass: number }>) =>
    `A mass of ${p.number("mass")} has no z-score: it must be above zero.`,
  "reference-implausible": (p: Given<{ z: number; age: number; mass: number }>) =>
    `z ${p.number("z", 3)} at age ${p.number("age")} d is outside -6 to +5: check the weighing before reading anything into it.`,
  "reference-too-small": (p: Given<{ n: number; animals: number }>) =>
    `${p.count("n", "weighing")} of ${p.count("animals", "animal")} ${p.agree("n", "is", "are")} too few for a reference (20 weighings of 3 animals on two different days at least).`,
  "reference-repeated": (p: Given<{ n: number; animals: number }>) =>
    `${p.count("n", "weighing")} ${p.agree("n", "comes", "come")} from ${p.count("animals", "animal")}: weighings of one animal repeat each other, so the animals were counted as the sample.`,
  "reference-no-fit": (p: Given<{ n: number; animals: number }>) =>
    `No curves could be fitted to ${p.count("n", "weighing")} of ${p.count("animals", "animal")}.`,
  "own-trend-few": (p: Given<{ n: number }>) =>
    `${p.count("n", "weighed day")} ${p.agree("n", "is", "are")} few for a trend of its own: noise and smoothness were not estimated but set.`,
  "in-care-before-arrival": (p: Given<{ animal: string; from: string }>) =>
    `The animals table says that ${p.text("animal")} arrives on ${p.text("from")}, but it is fed or weighed already: ask.`,
  "in-care-after-leaving": (p: Given<{ animal: string; end: string; outcome: string | null }>) =>
    `The animals table says that ${p.text("animal")} left on ${p.text("end")} (${p.text("outcome")}), but it is fed or weighed since: ask.`,
} satisfies Readonly<Record<string, Sentence>>;
