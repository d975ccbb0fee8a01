import { profileOf } from "../species/profile-of.js";
import type { AgeWindow } from "./gain-window.js";

/** Ages compared where nothing else is said, days. */
const general: AgeWindow = { fromAgeD: 21, toAgeD: 63 };
const beforeWeaningFrom = 10;

/**
 * The ages between which gain is compared when none are given. In a species that
 * fasts after weaning it ends with the earliest weaning of its profile: a gain
 * over milk and fast together says nothing of either. Common practice, no source.
 *
 * @example usualWindow("sea otter") // { fromAgeD: 21, toAgeD: 63 }
 * @example usualWindow("harbour seal") // { fromAgeD: 10, toAgeD: 24 }
 */
export function usualWindow(
  species: string,
  overrides: Readonly<Record<string, unknown>> = {},
): AgeWindow {
  const { weaning, postWeaningFast } = profileOf(species, overrides);
  if (weaning === null || postWeaningFast === null) return general;
  const toAgeD = Math.floor(weaning.range[0]);
  return toAgeD > beforeWeaningFrom ? { fromAgeD: beforeWeaningFrom, toAgeD } : general;
}
