import { type Notice, notice } from "../core/notice.js";
import type { LeftOut } from "../core/result.js";
import { UsageError } from "../core/usage-error.js";
import { type GainOverWindow, gainOverWindow } from "../rates/gain-over-window.js";
import type { AnimalSeries, CivilDate, DailyMass, StudySeries } from "../series/animal-series.js";
import { isDeath } from "../series/is-death.js";
import { daysBetween, numberOfDate } from "../units/calendar.js";
import { inCareOn, recordEnd } from "./in-care.js";
import {
  beforeDeathD,
  dayOfDeath,
  unwellAfterD,
  unwellBeforeD,
  unwellDays,
} from "./unwell-days.js";

export interface ContemporaryOptions {
  /** The day looked at; nothing later is read. Default: the animal's last weighed day. */
  readonly onDay?: CivilDate;
  /** Largest difference in age, days. Default 14. */
  readonly ageWithinD?: number;
  /** Largest relative difference in mass where age is unreliable. Default 0.2. */
  readonly massWithin?: number;
  /** Animals whose time in care ended before the day serve too. Default false. */
  readonly earlierSeasons?: boolean;
  /** Leave out days around illness, treatment and death. Default true. */
  readonly healthyOnly?: boolean;
  /** A contemporary's weighing may be this old, days. Default 3. */
  readonly freshWithinD?: number;
  /** Window of the gain, days. Default 7. */
  readonly gainDays?: number;
  /** Phase of an animal on a day: arrival and fast are compared only with their like. */
  readonly phaseOn?: (animalId: string, day: CivilDate) => string | null;
}

export interface Contemporary {
  readonly animalId: string;
  readonly when: "in care" | "earlier season";
  readonly feedingDay: CivilDate;
  readonly ageD: number | null;
  readonly massG: number;
  readonly gain: GainOverWindow;
}

export interface Contemporaries {
  readonly animalId: string;
  readonly onDay: CivilDate;
  /** "mass" where the animal's age is unknown or was estimated from mass. */
  readonly matchedBy: "age" | "mass";
  /** The animal itself on that day; null when its last weighing is too old. */
  readonly own: {
    readonly feedingDay: CivilDate;
    readonly ageD: number | null;
    readonly massG: number;
    readonly gain: GainOverWindow;
  } | null;
  readonly members: readonly Contemporary[];
  readonly n: number;
  /** Animals of the species that could have served and did not, by reason. */
  readonly leftOut: readonly LeftOut[];
  readonly notices: readonly Notice[];
}

/**
 * The contemporaries of one animal on one day: same species and study, itself
 * excluded, in care that day or (when asked) earlier seasons, age within 14 d,
 * or mass within 20 % where age is unreliable, with data up to that day only.
 *
 * The healthy reference leaves out days from 3 before to 7 after illness or
 * treatment and the last 14 before death; what needs the future (the 3 days
 * before, and death) applies only to animals whose time in care ended before
 * the day. An animal of an earlier season serves with its weighed day nearest
 * in age. `n` and who is missing from it are always told.
 *
 * @example contemporaries(series, "O24-02", { onDay: "2024-05-14", earlierSeasons: true }).n // 9
 */
export function contemporaries(
  study: StudySeries,
  animalId: string,
  options: ContemporaryOptions = {},
): Contemporaries {
  const animal = study.animals.find((a) => a.animal.animalId === animalId);
  if (animal === undefined) {
    throw new UsageError({
      needed: "the id of an animal of this study",
      came: `"${animalId}" is not one of its ${study.animals.length} animals`,
      where: "contemporaries",
      todo: "Use an animal_id of the animals table.",
    });
  }
  const onDay = options.onDay ?? animal.daily.at(-1)?.feedingDay ?? "0000-01-01";
  const fresh = options.freshWithinD ?? 3;
  const gainDays = options.gainDays ?? 7;
  const matchedBy = animal.age.usableForWeightForAge ? "age" : "mass";
  const ownRow = newestRow(animal, onDay, fresh);
  const ownPhase = options.phaseOn?.(animalId, onDay) ?? null;
  const notices: Notice[] = [];
  const left = new Map<string, number>();
  const leave = (reason: string) => void left.set(reason, (left.get(reason) ?? 0) + 1);
  const members: Contemporary[] = [];
  let diedYounger = 0;

  if (ownRow !== null) {
    for (const other of study.animals) {
      if (other === animal || other.animal.species !== animal.animal.species) continue;
      const now = inCareOn(other, onDay, study.settings);
      const ended = recordEnd(other);
      const earlier = !now && ended !== null && ended < onDay;
      if (!now && !earlier) continue;
      if (earlier && options.earlierSeasons !== true) continue;
      if (earlier && diedBeforeAge(other, ownRow.ageD)) {
        diedYounger++;
        continue;
      }
      const row = now ? newestRow(other, onDay, fresh) : rowNearest(other, ownRow, matchedBy);
      if (row === null) {
        leave(now ? "no recent weighing" : "no weighing near this age");
        continue;
      }
      if (matchedBy === "age" && !other.age.usableForWeightForAge) {
        leave("age not reliable");
        continue;
      }
      if (!isNear(row, ownRow, matchedBy, options)) {
        leave(matchedBy === "age" ? "age too different" : "mass too different");
        continue;
      }
      if (options.healthyOnly !== false && isUnwell(study, other, row.feedingDay, onDay)) {
        leave("illness, treatment or death near that day");
        continue;
      }
      if (!samePhase(ownPhase, options.phaseOn?.(other.animal.animalId, row.feedingDay) ?? null)) {
        leave("in another phase");
        continue;
      }
      members.push({
        animalId: other.animal.animalId,
        when: now ? "in care" : "earlier season",
        feedingDay: row.feedingDay,
        ageD: row.ageD,
        massG: row.massG,
        gain: gainOverWindow(other.daily, { endAt: row.at, days: gainDays }),
      });
    }
  } else {
    notices.push(
      notice("contemporaries-own-weighing-old", "caution", { animal: animalId, days: fresh }),
    );
  }
  if (matchedBy === "mass") {
    notices.push(notice("contemporaries-matched-by-mass", "info", { animal: animalId }));
  }
  if (members.some((m) => m.when === "earlier season") || diedYounger > 0) {
    notices.push(
      notice("contemporaries-survivors", "caution", { n: members.length, died: diedYounger }),
    );
  }
  return {
    animalId,
    onDay,
    matchedBy,
    own:
      ownRow === null
        ? null
        : {
            feedingDay: ownRow.feedingDay,
            ageD: ownRow.ageD,
            massG: ownRow.massG,
            gain: gainOverWindow(animal.daily, { endAt: ownRow.at, days: gainDays }),
          },
    members,
    n: members.length,
    leftOut: [...left].map(([reason, count]) => ({ reason, count })),
    notices,
  };
}

function newestRow(series: AnimalSeries, onDay: CivilDate, fresh: number): DailyMass | null {
  const { daily } = series;
  for (let i = daily.length - 1; i >= 0; i--) {
    const row = daily[i]!;
    if (row.feedingDay > onDay) continue;
    return daysBetween(row.feedingDay, onDay) <= fresh ? row : null;
  }
  return null;
}

/** The row of an ended record nearest in age (or mass), ties to the earlier. */
function rowNearest(
  series: AnimalSeries,
  own: DailyMass,
  matchedBy: "age" | "mass",
): DailyMass | null {
  let best: DailyMass | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const row of series.daily) {
    const away =
      matchedBy === "mass"
        ? Math.abs(Math.log(row.massG / own.massG))
        : row.ageD === null || own.ageD === null
          ? Number.POSITIVE_INFINITY
          : Math.abs(row.ageD - own.ageD);
    if (away < least) {
      least = away;
      best = row;
    }
  }
  return best;
}

function isNear(
  row: DailyMass,
  own: DailyMass,
  matchedBy: "age" | "mass",
  options: ContemporaryOptions,
): boolean {
  if (matchedBy === "mass") {
    return Math.abs(row.massG / own.massG - 1) <= (options.massWithin ?? 0.2);
  }
  if (row.ageD === null || own.ageD === null) return false;
  return Math.abs(row.ageD - own.ageD) <= (options.ageWithinD ?? 14);
}

function isUnwell(
  study: StudySeries,
  other: AnimalSeries,
  day: CivilDate,
  onDay: CivilDate,
): boolean {
  const ended = recordEnd(other);
  const past = ended !== null && ended < onDay;
  const own = numberOfDate(day);
  const died = dayOfDeath(other);
  if (past && died !== null && died - own <= beforeDeathD) return true;
  // What lies ahead is looked at only where the record has ended and all of it is known.
  const before = past ? unwellBeforeD : 0;
  const today = numberOfDate(onDay);
  return unwellDays(study, other).some(
    (d) => d <= today && own - d >= -before && own - d <= unwellAfterD,
  );
}

function diedBeforeAge(other: AnimalSeries, ageD: number | null): boolean {
  if (!isDeath(other.animal.outcome)) return false;
  const last = other.daily.at(-1)?.ageD ?? null;
  return last !== null && ageD !== null && last < ageD;
}

function samePhase(own: string | null, other: string | null): boolean {
  const apart = (phase: string | null) => phase === "arrival" || phase === "post-weaning fast";
  return apart(own) || apart(other) ? own === other : true;
}
