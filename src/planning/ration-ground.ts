import type { Measured } from "../core/measured.js";
import type { Notice } from "../core/notice.js";
import { animalLevels } from "../flags/levels/animal-levels.js";
import type { AnimalLevel } from "../flags/levels/level.js";
import type { EnergyChoice } from "../rates/energy-of.js";
import { type IntakeDay, intakeByDay } from "../rates/intake-by-day.js";
import { seriesUpTo } from "../rates/series-up-to.js";
import type { AnimalSeries, CivilDate, StudySettings } from "../series/animal-series.js";
import { type DayOrder, dayOrder } from "../series/orders/day-order.js";
import { smoothedMassAt } from "../series/smoothed-mass.js";
import { profileOf } from "../species/profile-of.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { addDays, type FeedingDaySpan, feedingDayOf, feedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { RationTarget } from "./ration-amount.js";
import type { RationOptions } from "./ration-options.js";
import { meanEaten, meanOffered } from "./recent-intake.js";

export interface GroundOptions extends RationOptions {
  /** Why nothing can be suggested, found outside. */
  readonly refuse?: Notice;
}

/** What one animal's ration for one day rests on. */
export interface RationGround {
  readonly options: GroundOptions;
  readonly settings: StudySettings;
  readonly profile: SpeciesProfile;
  readonly animal: string;
  readonly series: AnimalSeries;
  /** The history up to the instant at which the ration is made. */
  readonly past: AnimalSeries;
  readonly feedingDay: CivilDate;
  readonly span: FeedingDaySpan;
  readonly mass: Measured;
  readonly ageD: number | null;
  readonly ordered: DayOrder;
  readonly target: RationTarget;
  readonly level: AnimalLevel;
  readonly intake: readonly IntakeDay[];
  /** The last three complete days with feeds. */
  readonly recent: readonly IntakeDay[];
  readonly recentEatenG: Measured;
  readonly recentOfferedG: Measured;
}

export function rationGround(series: AnimalSeries, options: GroundOptions): RationGround {
  const { settings, at } = options;
  const { zone, feedingDayStartHour: startHour } = settings;
  const feedingDay = options.feedingDay ?? addDays(feedingDayOf(at, zone, startHour), 1);
  const span = feedingDaySpan(feedingDay, zone, startHour);
  const past = seriesUpTo(series, at);
  // What somebody ordered comes first.
  const ordered = dayOrder(past.orders, feedingDay);
  const intake = (options.intake ?? intakeByDay(past, { settings }).value).filter(
    (d) => d.to <= at,
  );
  const recent = intake.filter((d) => d.feeds > 0).slice(-3);
  return {
    options,
    settings,
    profile: options.profile ?? profileOf(series.animal.species, settings.speciesOverrides),
    animal: series.animal.animalId,
    series,
    past,
    feedingDay,
    span,
    mass: smoothedMassAt(past, at, { upTo: at }),
    ageD: series.age.birth === null ? null : (span.from - series.age.birth) / dayMs,
    ordered,
    target: options.target ?? { kind: (ordered.grams ?? 0) > 0 ? "plan" : "profile" },
    level: options.level ?? levelAlone(series, options),
    intake,
    recent,
    recentEatenG: meanEaten(recent),
    recentOfferedG: meanOffered(recent),
  };
}

/** Which statement of energy counts. */
export function energyAsked({ energy }: RationOptions): EnergyChoice {
  return energy ?? "stated, else general";
}

/** Its level as its own history tells it, where nobody has worked it out among the others. */
function levelAlone(series: AnimalSeries, { at, settings, levelLimits }: RationOptions) {
  const study = {
    settings,
    animals: [series],
    scaleChecks: [],
    events: [],
    batches: [],
    notices: [],
  };
  const only = [series.animal.animalId];
  return animalLevels(study, {
    at,
    only,
    ...(levelLimits === undefined ? {} : { limits: levelLimits }),
  })[0]!;
}
