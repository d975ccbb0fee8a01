import type { IntakeDay } from "../../rates/intake-by-day.js";
import { type Phase, phasesOf } from "../../rates/phases-of.js";
import type { AnimalSeries, CivilDate, StudySeries } from "../../series/animal-series.js";
import { profileOf } from "../../species/profile-of.js";
import { feedingDaySpan } from "../../units/calendar.js";
import { dayMs } from "../../units/day-ms.js";

/**
 * The phase of an animal on a day, each from data up to the end of that day only,
 * remembered once worked out.
 *
 * @example causalPhases(study)("P07", "2031-05-14") // "milk"
 */
export function causalPhases(
  study: StudySeries,
  /** Intake already worked out, by animal: saves most of the work. */
  intakeOf: (animalId: string) => readonly IntakeDay[] | undefined = () => undefined,
  /** By animal and day: those worked out already, where those worked out now are kept too. */
  known: Map<string, Map<CivilDate, string | null>> = new Map(),
): (animalId: string, day: CivilDate) => string | null {
  const { zone, feedingDayStartHour } = study.settings;
  const ends = new Map<CivilDate, number>();
  const endOf = (day: CivilDate) => {
    let end = ends.get(day);
    if (end === undefined) {
      end = feedingDaySpan(day, zone, feedingDayStartHour).to - 1;
      ends.set(day, end);
    }
    return end;
  };
  const byId = new Map(
    study.animals.map((a) => {
      const { animalId } = a.animal;
      const own = known.get(animalId) ?? new Map<CivilDate, string | null>();
      known.set(animalId, own);
      return [animalId, { known: own, phaseAt: phaseReader(a, study, () => intakeOf(animalId)) }];
    }),
  );
  return (animalId, day) => {
    const own = byId.get(animalId);
    if (own === undefined) return null;
    let phase = own.known.get(day);
    if (phase === undefined) {
      phase = own.phaseAt(endOf(day));
      own.known.set(day, phase);
    }
    return phase;
  };
}

/**
 * The phase of one animal at an instant. Arrival ends at day 7 at the latest: beyond
 * it the masses no longer matter. Where the species has no fast, what begins a phase
 * is then a first event, which later rows do not move: all of them are found at once,
 * and those that have begun by then count.
 */
function phaseReader(
  series: AnimalSeries,
  { settings }: StudySeries,
  intakeOf: () => readonly IntakeDay[] | undefined,
): (endAt: number) => string | null {
  const start = series.animal.admittedAt ?? series.span?.from ?? null;
  const fasts =
    profileOf(series.animal.species, settings.speciesOverrides).postWeaningFast !== null;
  const massless = { ...series, daily: [] };
  let later: readonly Phase[] | null = null;
  const named = (phases: readonly Phase[]) => phases.at(-1)?.phase ?? null;
  return (endAt) => {
    const intake = intakeOf();
    const known = intake === undefined ? {} : { intake };
    if (start === null || endAt <= start + 8 * dayMs)
      return named(phasesOf(series, { settings, endAt, ...known }).value.phases);
    if (fasts) return named(phasesOf(massless, { settings, endAt, ...known }).value.phases);
    later ??= phasesOf(massless, { settings, endAt: Number.POSITIVE_INFINITY, ...known }).value
      .phases;
    return named(later.filter((p) => p.from <= endAt));
  };
}
