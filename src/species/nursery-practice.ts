import type { SourcedValue } from "./species-profile.js";

/** Formula is made fresh about every twelve hours. */
export const formulaUseBy: SourcedValue = {
  value: 12,
  unit: "h",
  source: "no source",
  sure: "common practice",
};

/** The stricter rules for the very young hold under four weeks. */
export const veryYoung: SourcedValue = {
  value: 28,
  unit: "d",
  source: "no source",
  sure: "common practice",
};
