import type { Sentence } from "../wording.js";

/** Sentences of the `analysis` room, by notice code. */
export const analysisMessages = {
  "analysis-no-feeds": () =>
    "There are no feeds in this study: intake, feed conversion, the feeding rhythm and energy cannot be computed. Gain, curves and comparisons of mass can.",
  "analysis-no-diets": () =>
    "There are no diets in this study: grams eaten can be computed; energy, dry matter and water cannot.",
  "analysis-no-observations": () =>
    "There are no observations in this study: illness and treatment cannot be taken into account.",
  "analysis-no-scale-checks": () =>
    "No scale was checked with a known weight: a drifting scale would not be noticed.",
  "analysis-earlier-seasons": () =>
    "Contemporaries include animals of earlier seasons at the same age, because few are in care at one time. Only animals that lived to that age can serve.",
  "analysis-ages-from-admission": (p) =>
    `The birth date of ${p.text("animal")} is not known: its curve runs on days since admission.`,
  "analysis-arrival-left-out": (p) =>
    `${p.number("n")} weighings of the arrival phase are left out of the curve of ${p.text("animal")}: early change is rehydration, not growth.`,
  "analysis-fast-left-out": (p) =>
    `${p.number("n")} weighings from the post-weaning fast on are left out of the curve of ${p.text("animal")}.`,
} satisfies Readonly<Record<string, Sentence>>;
