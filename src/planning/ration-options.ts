import type { AnimalLevel } from "../flags/levels/level.js";
import type { LevelLimits } from "../flags/levels/level-limits.js";
import type { EnergyChoice } from "../rates/energy-of.js";
import type { IntakeDay } from "../rates/intake-by-day.js";
import type { CivilDate, StudySettings, UnusedOrder } from "../series/animal-series.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import type { RationTarget } from "./ration-amount.js";
import type { RationDiet } from "./ration-diet.js";

/** Editable limits. A limit no source gives is absent until someone enters it. */
export interface RationLimits {
  /** Most that one feed may be, % of body mass. Default: the species profile's, if it has one. */
  readonly feedPctOfMass?: number;
  /** Steepest rise above the mean offered on the last complete days, %. Default 10 (own choice). */
  readonly risePct?: number | null;
  /** Most water in the day's food, mL per kg. Default: none. */
  readonly waterMlPerKg?: number;
}

export interface RationOptions {
  readonly settings: StudySettings;
  /** The instant at which the ration is made; only data up to it are used. */
  readonly at: number;
  /** The feeding day planned. Default: the one after the day of `at`. */
  readonly feedingDay?: CivilDate;
  readonly profile?: SpeciesProfile;
  readonly target?: RationTarget;
  /** Formula and solid to use. Default: those last given. */
  readonly diets?: readonly RationDiet[];
  /** Share of the energy from solids, %. Default: as eaten over the last complete days. */
  readonly solidsEnergyPct?: number;
  readonly feedsPerDay?: number;
  /** Local clock times "HH:MM". */
  readonly feedTimes?: readonly string[];
  /** Scales the amount before the limits, %. Default 100. */
  readonly scalePct?: number;
  readonly limits?: RationLimits;
  /** Where the animal stands at `at`. Default: worked out from its own history alone. */
  readonly level?: AnimalLevel;
  /** Limits by which that is worked out. */
  readonly levelLimits?: Partial<LevelLimits>;
  readonly energy?: EnergyChoice;
  /** Lines of orders that name no animal of the study: told where this one has no order. */
  readonly ordersOfNobody?: readonly UnusedOrder[];
  /** Intake already computed. */
  readonly intake?: readonly IntakeDay[];
}
