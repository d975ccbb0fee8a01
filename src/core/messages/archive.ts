import type { Given, Sentence } from "../wording.js";

/** Sentences about archives, by notice code. */
export const archiveMessages = {
  "archive-rows-of-studies": (p: Given<{ studies: number; facilities: number }>) =>
    `Rows of an archive: ${p.count("studies", "study", "studies")} of ${p.count("facilities", "facility", "facilities")}; ids carry the facility before them where there are several.`,
  "archive-clocks-differ": (p: Given<{ studies: number }>) =>
    `${p.count("studies", "study keeps", "studies keep")} another clock than the first: every house is told in its own wall clock, and where clocks were changed in a stretch of time it counts one hour more or less.`,
  "pool-without-season-level": (p: Given<{ facilities: number }>) =>
    `Every one of the ${p.number("facilities")} facilities has animals of a single season: what differs between seasons cannot be told from what differs between houses.`,
  "pool-facility-left-out": (p: Given<{ facility: string; needed: number }>) =>
    `${p.text("facility")} is not among the houses compared: no animal of it has ${p.number("needed")} weighed days that fill the window of ages.`,
} satisfies Readonly<Record<string, Sentence>>;
