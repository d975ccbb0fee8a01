import { type IntakeDay, intakeByDay } from "../../rates/intake-by-day.js";
import { limitsInForce } from "../../rates/limits-in-force.js";
import { type SignAlert, signAlerts } from "../../rates/sign-alerts.js";
import { defaultSignLimits } from "../../rates/sign-limits.js";
import { admittedOn } from "../../reference/in-care.js";
import type {
  AnimalSeries,
  CivilDate,
  NetWeighing,
  StudySettings,
} from "../../series/animal-series.js";
import { isSurelyPresent, type Sign } from "../../series/signs/sign.js";
import { profileOf } from "../../species/profile-of.js";
import type { SpeciesProfile } from "../../species/species-profile.js";
import { feedingDayOf } from "../../units/calendar.js";

/** One animal with what the rules look up day by day, so that a year replays quickly. */
export interface PreparedAnimal {
  readonly series: AnimalSeries;
  readonly id: string;
  readonly profile: SpeciesProfile;
  readonly settings: StudySettings;
  /** First feeding day in care, of which only a part was here; null where unknown. */
  readonly firstDay: CivilDate | null;
  readonly rowOn: ReadonlyMap<CivilDate, number>;
  /** Weighings under suspicion of a slip: they stand for no day, a loss among them counts. */
  readonly doubtedOn: ReadonlyMap<CivilDate, readonly NetWeighing[]>;
  readonly intake: ReadonlyMap<CivilDate, IntakeDay>;
  /** Feeding days with feeds given to its group: what it ate of them is not known. */
  readonly sharedOn: ReadonlySet<CivilDate>;
  readonly signsOn: ReadonlyMap<CivilDate, readonly Sign[]>;
  readonly alertsOn: ReadonlyMap<CivilDate, readonly SignAlert[]>;
  /** Instants at which stool and urine were seen for sure. */
  readonly excretedAt: Readonly<Record<"stool" | "urine", readonly number[]>>;
  /** Instants of feeds, its own and those of its group, in order. */
  readonly feedAt: readonly number[];
  /** Those of which something was or may have been eaten. */
  readonly ateAt: readonly number[];
}

/** Looks an animal up once: days, intake, observations and feeds by feeding day. */
export function prepareAnimal(
  series: AnimalSeries,
  settings: StudySettings,
  /** Its intake, where that is worked out already. */
  known?: readonly IntakeDay[],
): PreparedAnimal {
  const { zone, feedingDayStartHour } = settings;
  const byDay = <T extends { readonly at: number }>(rows: readonly T[]) => {
    const days = new Map<CivilDate, T[]>();
    for (const row of rows) {
      const day = feedingDayOf(row.at, zone, feedingDayStartHour);
      const list = days.get(day);
      if (list === undefined) days.set(day, [row]);
      else list.push(row);
    }
    return days;
  };
  const doubtedOn = new Map<CivilDate, NetWeighing[]>();
  for (const w of series.weighings) {
    if (w.slip === null || w.netG === null) continue;
    const list = doubtedOn.get(w.feedingDay);
    if (list === undefined) doubtedOn.set(w.feedingDay, [w]);
    else list.push(w);
  }
  const intake =
    series.feeds.length === 0 ? [] : (known ?? intakeByDay(series, { settings }).value);
  return {
    series,
    id: series.animal.animalId,
    profile: profileOf(series.animal.species, settings.speciesOverrides),
    settings,
    firstDay: series.animal.admittedAt === null ? null : admittedOn(series, settings),
    rowOn: new Map(series.daily.map((d, i) => [d.feedingDay, i])),
    doubtedOn,
    intake: new Map(intake.map((d) => [d.feedingDay, d])),
    sharedOn: new Set(series.sharedFeeds.map((f) => feedingDayOf(f.at, zone, feedingDayStartHour))),
    signsOn: byDay(series.signs),
    alertsOn: byDay(signAlerts(series.signs, limitsInForce(defaultSignLimits, settings))),
    excretedAt: { stool: excretedAt(series, "stool"), urine: excretedAt(series, "urine") },
    feedAt: inOrder([...series.feeds, ...series.sharedFeeds]),
    ateAt: inOrder([...series.feeds.filter((f) => f.eatenHighG > 0), ...series.sharedFeeds]),
  };
}

/** Instants at which stool or urine was seen for sure, in order. */
export const excretedAt = (series: AnimalSeries, kind: "stool" | "urine") =>
  inOrder(series.signs.filter((sign) => sign.kind === kind && isSurelyPresent(sign)));

const inOrder = (rows: readonly { readonly at: number }[]) =>
  rows.map((row) => row.at).sort((a, b) => a - b);

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
