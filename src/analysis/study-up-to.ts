import type { AnimalRow, Study } from "../records/study.js";
import { feedingDaySpan } from "../units/calendar.js";

/** How far ahead orders and sheets may reach. */
const orderedAheadMs = 36 * 3_600_000;

/**
 * The study as it stood at the end of a feeding day: nothing recorded later is
 * in it, an animal whose outcome came later is in care, and one admitted later
 * is absent. What is computed from it is what would have been computed then.
 *
 * @example studyUpTo(study, "2031-05-14").tables.weighings.length // 812
 */
export function studyUpTo(study: Study, day: string): Study {
  const { zone, feedingDayStartHour } = study.settings;
  const end = feedingDaySpan(day, zone, feedingDayStartHour).to;
  const before = <Row extends { readonly at: number }>(rows: readonly Row[]) =>
    rows.filter((row) => row.at < end);
  const begun = <Row extends { readonly from: number; readonly to: number | null }>(
    rows: readonly Row[],
  ) =>
    rows
      .filter((row) => row.from < end)
      .map((row) => (row.to !== null && row.to >= end ? { ...row, to: null } : row));
  const { tables } = study;
  return {
    ...study,
    tables: {
      ...tables,
      animals: tables.animals
        .filter((animal) => animal.admittedAt === null || animal.admittedAt < end)
        .map((animal) => asOf(animal, day)),
      weighings: before(tables.weighings),
      scaleChecks: before(tables.scaleChecks),
      feeds: before(tables.feeds),
      observations: before(tables.observations),
      events: before(tables.events),
      // Orders are written ahead; what is ordered for the next feeding day is known tonight.
      plans: tables.plans.filter((plan) => plan.from < end + orderedAheadMs),
      housing: begun(tables.housing),
      batches: tables.batches.filter((batch) => batch.madeAt < end),
    },
  };
}

function asOf(animal: AnimalRow, day: string): AnimalRow {
  if (animal.outcomeDate === null || animal.outcomeDate <= day) return animal;
  return { ...animal, outcome: "in care", outcomeReason: null, outcomeDate: null };
}
