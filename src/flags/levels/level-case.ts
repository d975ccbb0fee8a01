import type { SignAlert } from "../../rates/sign-alerts.js";
import type { AnimalSeries, Instant, StudySettings } from "../../series/animal-series.js";
import type { SpeciesProfile } from "../../species/species-profile.js";
import type { AnimalDay } from "../animal-day/flag.js";
import type { PreparedAnimal } from "../animal-day/prepared-animal.js";
import type { WhatIsWritten } from "../rules/what-is-written.js";
import type { LevelLimits } from "./level-limits.js";

/** All that is known of one animal at an instant, for the rules that raise its level. */
export interface LevelCase {
  /** Its history up to `at`, nothing later. */
  readonly series: AnimalSeries;
  readonly prepared: PreparedAnimal;
  readonly at: Instant;
  /** Newest line written of anybody up to `at`: until then somebody wrote. */
  readonly heard: Instant;
  /** Newest line written of another animal; null where there is none. */
  readonly heardOfOthers: Instant | null;
  /** Whether feeds of anybody were written in the two days up to `at`. */
  readonly feedsAreWritten: boolean;
  /** Whether a temperature of anybody was ever written up to `at`. */
  readonly temperaturesAreWritten: boolean;
  /** The youngest that it can be, days; null where its birth is not known. */
  readonly ageD: number | null;
  /** Also where its age is not known. */
  readonly veryYoung: boolean;
  /** What its signs raised in the 24 h up to `at`. */
  readonly alerts: readonly SignAlert[];
  readonly profile: SpeciesProfile;
  readonly settings: StudySettings;
  readonly limits: LevelLimits;
  readonly written: WhatIsWritten;
  /** Its next feed whose time is ordered; null where none is. */
  readonly nextFeedAt: Instant | null;
  /** What the day's list says of it; null where no list was made. */
  readonly day: AnimalDay | null;
}
