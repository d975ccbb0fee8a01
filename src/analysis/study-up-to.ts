import type { AnimalRow, Study } from "../records/study.js";
import type { Table } from "../records/table.js";
import { feedingDaySpan } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { hourMs } from "../units/hour-ms.js";

/** How far ahead orders and sheets may reach. */
const orderedAheadMs = 36 * hourMs;

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
  const before = <Row extends { readonly at: number }>(rows: Table<Row>) =>
    rows.filter((row) => row.at < end);
  const seen = new Map<string, SeenBefore>();
  // Looked at and cut in one go: a row of a long table is made each time it is looked at.
  const seenBefore = <Row extends { readonly at: number; readonly animalId: string | null }>(
    rows: Table<Row>,
  ) =>
    rows.filter((row) => {
      see(seen, row, end);
      return row.at < end;
    });
  const begun = <Row extends { readonly from: number; readonly to: number | null }>(
    rows: readonly Row[],
  ) =>
    rows
      .filter((row) => row.from < end)
      .map((row) => (row.to !== null && row.to >= end ? { ...row, to: null } : row));
  const { tables } = study;
  const weighings = seenBefore(tables.weighings);
  const feeds = seenBefore(tables.feeds);
  const observations = seenBefore(tables.observations);
  // One that was fed or weighed before its written arrival is here all the same.
  const present = (animals: readonly AnimalRow[]) =>
    animals.flatMap((animal) => {
      const own = seen.get(animal.animalId);
      const late = animal.admittedAt !== null && animal.admittedAt >= end;
      if (late ? own?.lately !== true : animal.admittedAt === null && own?.before === false)
        return [];
      return [asOf(late ? { ...animal, admittedAt: null } : animal, day)];
    });
  return {
    ...study,
    ...(study.decisions === undefined ? {} : { decisions: before(study.decisions) }),
    ...(study.answers === undefined ? {} : { answers: before(study.answers) }),
    ...(study.standIns === undefined ? {} : { standIns: present(study.standIns) }),
    ...(study.questions === undefined
      ? {}
      : { questions: study.questions.filter((q) => q.at === null || q.at < end) }),
    tables: {
      ...tables,
      animals: present(tables.animals),
      weighings,
      scaleChecks: before(tables.scaleChecks),
      feeds,
      observations,
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

/** Whether an animal has records before an instant, and within the two days before it. */
interface SeenBefore {
  before: boolean;
  lately: boolean;
}

function see(
  seen: Map<string, SeenBefore>,
  { animalId, at }: { readonly animalId: string | null; readonly at: number },
  end: number,
): void {
  if (animalId === null) return;
  let own = seen.get(animalId);
  if (own === undefined) {
    own = { before: false, lately: false };
    seen.set(animalId, own);
  }
  own.before ||= at < end;
  own.lately ||= at < end && at >= end - 2 * dayMs;
}
