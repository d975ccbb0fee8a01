import type { Sentence } from "../wording.js";

/** Sentences of the `flags` room, by notice code. */
export const flagMessages = {
  "flags-no-diagnosis": () =>
    "A flag asks for a second look; it is no diagnosis, and no flag does not mean healthy. The attending veterinarian and the permit conditions decide; local rules come first.",
  "flags-nobody-in-care": (p) => `No animal of this study was in care on ${p.text("day")}.`,
  "flag-day-flagged": (p) => `${p.text("animal")} needs a second look: ${p.list("signals")}.`,
  "flag-day-not-flagged": (p) =>
    `${p.text("animal")} is not flagged by what could be judged (${p.list("judged")}); that is no statement about its health.`,
  "flag-day-not-judged": (p) =>
    `${p.text("animal")} could not be judged on this day; look at it by other means.`,
  "flag-level": (p) =>
    `${p.text("animal")} weighs ${p.number("mass")} g; contemporaries of its age centre on ${p.number("centre")} g (z ${p.number("z", 3)}, n ${p.text("n")}; looked at from ${p.number("limit", 3)}).`,
  "flag-gain": (p) =>
    `${p.text("animal")} gained ${p.number("gain", 3)} %/d over the window; contemporaries ${p.number("centre", 3)} %/d (z ${p.number("z", 3)}, n ${p.text("n")}; looked at from ${p.number("limit", 3)}).`,
  "flag-gain-too-fast": (p) =>
    `${p.text("animal")} gained ${p.number("gain", 3)} %/d against ${p.number("centre", 3)} %/d of its contemporaries (z ${p.number("z", 3)}, n ${p.text("n")}; looked at from ${p.number("limit", 3)}): think of fluid retention, overfeeding or a wrong tare.`,
  "flag-loss-from-peak": (p) =>
    `${p.text("animal")} is ${p.number("loss", 3)} % below its recent peak of ${p.number("peak")} g on ${p.text("peakDay")}, at ${p.number("now")} g (looked at from ${p.number("limit", 3)} %, common practice without a published limit).`,
  "flag-no-recent-weighing": (p) =>
    `${p.text("animal")} has no recent weighing on ${p.text("day")}, so its loss is not judged.`,
  "flag-one-weighing": (p) =>
    `${p.text("animal")} has fewer than two weighed days in ${p.text("days")} days, so its loss is not judged.`,
  "flag-phase-arrival": (p) =>
    `${p.text("animal")} is in its arrival phase: early gain after rehydration is not growth, so gain is not judged.`,
  "flag-phase-fast": (p) =>
    `${p.text("animal")} is in its fast, where loss is expected: loss from the peak is not judged.`,
} satisfies Readonly<Record<string, Sentence>>;
