import { type IntakeDay, intakeByDay } from "../rates/intake-by-day.js";
import type {
  AnimalSeries,
  CivilDate,
  ObservationRow,
  StudySettings,
} from "../series/animal-series.js";
import { profileOf } from "../species/profile-of.js";
import type { SpeciesProfile } from "../species/species-profile.js";
import { feedingDayOf } from "../units/calendar.js";

/** One animal with what the rules look up day by day, so that a year replays quickly. */
export interface PreparedAnimal {
  readonly series: AnimalSeries;
  readonly id: string;
  readonly profile: SpeciesProfile;
  readonly settings: StudySettings;
  readonly rowOn: ReadonlyMap<CivilDate, number>;
  readonly intake: ReadonlyMap<CivilDate, IntakeDay>;
  readonly observationsOn: ReadonlyMap<CivilDate, readonly ObservationRow[]>;
  readonly stools: readonly ObservationRow[];
  readonly urines: readonly ObservationRow[];
  /** Instants of feeds, in order. */
  readonly feedAt: readonly number[];
}

/** Looks an animal up once: days, intake, observations and feeds by feeding day. */
export function prepareAnimal(series: AnimalSeries, settings: StudySettings): PreparedAnimal {
  const { zone, feedingDayStartHour } = settings;
  const observationsOn = new Map<CivilDate, ObservationRow[]>();
  for (const o of series.observations) {
    const day = feedingDayOf(o.at, zone, feedingDayStartHour);
    const list = observationsOn.get(day);
    if (list === undefined) observationsOn.set(day, [o]);
    else list.push(o);
  }
  const intake = series.feeds.length === 0 ? [] : intakeByDay(series, { settings }).value;
  return {
    series,
    id: series.animal.animalId,
    profile: profileOf(series.animal.species, settings.speciesOverrides),
    settings,
    rowOn: new Map(series.daily.map((d, i) => [d.feedingDay, i])),
    intake: new Map(intake.map((d) => [d.feedingDay, d])),
    observationsOn,
    stools: series.observations.filter((o) => o.kind === "stool"),
    urines: series.observations.filter((o) => o.kind === "urine"),
    feedAt: series.feeds.map((f) => f.at),
  };
}

/** Index of the last item at or before `at`; -1 when there is none. Items in order. */
export function lastUpTo(instants: readonly number[], at: number): number {
  let low = 0;
  let high = instants.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (instants[middle]! <= at) low = middle + 1;
    else high = middle;
  }
  return low - 1;
}
