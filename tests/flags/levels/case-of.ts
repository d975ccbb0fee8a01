import { prepareAnimal } from "../../../src/flags/animal-day/prepared-animal.js";
import type { LevelCase } from "../../../src/flags/levels/level-case.js";
import { defaultLevelLimits, type LevelLimits } from "../../../src/flags/levels/level-limits.js";
import { whatIsWritten } from "../../../src/flags/rules/what-is-written.js";
import { signAlerts } from "../../../src/rates/sign-alerts.js";
import { profileOf } from "../../../src/species/profile-of.js";
import {
  day,
  type SmallStudy,
  smallStudySeries,
  start,
  settings as usual,
} from "../../rates/small-study.js";

/** Nine days after admission, 06:00: begin of a feeding day. */
export const at = start + 9 * day;

export interface CaseParts extends SmallStudy {
  readonly limits?: Partial<LevelLimits> | undefined;
}

/**
 * An invented pup of some 18 days at `at`, very young, with the lines that are told and
 * another animal of which something was written up to now; `over` tells what is otherwise.
 */
export function caseOf(parts: CaseParts = {}, over: Partial<LevelCase> = {}): LevelCase {
  const study = smallStudySeries(parts);
  const series = study.animals[0]!;
  const settings = { ...usual, ...parts.settings };
  const limits = { ...defaultLevelLimits, ...parts.limits };
  const now = over.at ?? at;
  const alerts = signAlerts(series.signs, limits);
  return {
    series,
    prepared: prepareAnimal(series, settings, []),
    at,
    heard: now,
    heardOfOthers: now,
    feedsAreWritten: true,
    temperaturesAreWritten: true,
    ageD: 18,
    veryYoung: true,
    alerts: alerts.filter((a) => a.at > now - day && a.at <= now),
    profile: profileOf(series.animal.species),
    settings,
    limits,
    written: whatIsWritten(study.animals, settings, limits),
    nextFeedAt: null,
    day: null,
    ...over,
  };
}

/** Hours before `at`, kind, words as written. */
export type SeenLine = readonly [number, string, string];

/** Signs of the pup. */
export const seen = (...lines: readonly SeenLine[]) => ({
  observations: lines
    .map(([hoursBack, kind, valueText]) => ({ at: at - hoursBack * 3_600_000, kind, valueText }))
    .sort((a, b) => a.at - b.at),
});
