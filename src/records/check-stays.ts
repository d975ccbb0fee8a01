import { type Notice, notice } from "../core/notice.js";
import { addDays, type CivilDate, civilDayOf, localNoon } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { exchangeDayMonth } from "../units/read-time.js";
import { type DraftRow, type Drafts, written } from "./draft-row.js";
import { timedTables } from "./good-instants.js";
import { isDeath } from "./is-death.js";
import { loseCell } from "./lose-cell.js";
import { placeOf } from "./set-aside.js";
import type { Outcome, StudySettings } from "./study.js";

/** So many rows, and half of an animal's, are more than slips: then the date they contradict is. */
const TOO_MANY = 3;

/**
 * Holds every animal's rows against its stay: nothing before birth, nothing
 * after death, little before arrival or after leaving. A few rows outside are
 * set aside or told; where half of an animal's rows contradict one date of the
 * animals table, that date is in doubt and not the rows.
 */
export function checkStays(drafts: Drafts, settings: StudySettings): void {
  const stays = byAnimal((drafts.get("animals") ?? []).filter((a) => a.fault === null));
  const rows = new Map(
    [...stays].map(([id, animal]) => [id, rowsOutside(animal, settings)] as const),
  );
  for (const table of timedTables)
    for (const draft of drafts.get(table) ?? [])
      if (draft.fault === null) rows.get(draft.get("animalId") as string)?.take(draft);
  for (const [id, animal] of stays) {
    const own = rows.get(id)!;
    if (own.count === 0) continue;
    checkBirth(animal, own, settings);
    checkArrival(animal, own);
    checkEnd(animal, own, settings);
  }
}

/** How many rows an animal has, and those of them that lie outside some date of its stay. */
interface OwnRows {
  readonly count: number;
  readonly outside: readonly DraftRow[];
}

function rowsOutside(animal: readonly DraftRow[], settings: StudySettings) {
  const from = Math.max(
    bornFrom(animal, settings)?.limit ?? Number.NEGATIVE_INFINITY,
    arrivedAt(animal) - dayMs,
  );
  const to = Math.min(...animal.map((stay) => endOf(stay, settings)));
  const own = {
    count: 0,
    outside: [] as DraftRow[],
    take(row: DraftRow) {
      own.count++;
      const at = atOf(row);
      if (at < from || at > to) own.outside.push(row);
    },
  };
  return own;
}

/** The earliest date of birth, and the instant before which no row may be. */
function bornFrom(animal: readonly DraftRow[], settings: StudySettings) {
  const dates = animal.flatMap((a) => (a.get("birthDateEarliest") as string | null) ?? []);
  const born = dates.sort()[0];
  return born === undefined ? null : { born, limit: localNoon(addDays(born, -1), settings.zone) };
}

/** The first arrival; long ago where one is not known. */
const arrivedAt = (animal: readonly DraftRow[]) => Math.min(...animal.map(arrivalOf));

/** The instant after which an animal was gone. */
function endOf(stay: DraftRow, settings: StudySettings): number {
  const [outcome, outcomeDate] = [stay.get("outcome"), stay.get("outcomeDate")];
  return typeof outcomeDate !== "string" || outcome === "in care"
    ? Number.POSITIVE_INFINITY
    : localNoon(addDays(outcomeDate, 1), settings.zone) + dayMs / 2;
}

function byAnimal(drafts: readonly DraftRow[]): Map<string, DraftRow[]> {
  const found = new Map<string, DraftRow[]>();
  for (const draft of drafts) {
    const id = draft.get("animalId");
    if (typeof id !== "string") continue;
    const list = found.get(id);
    if (list === undefined) found.set(id, [draft]);
    else list.push(draft);
  }
  return found;
}

const atOf = (draft: DraftRow) => draft.get("at") as number;
const tooMany = (some: readonly DraftRow[], { count }: OwnRows) =>
  some.length >= TOO_MANY && 2 * some.length >= count;

function checkBirth(animal: readonly DraftRow[], own: OwnRows, settings: StudySettings): void {
  const from = bornFrom(animal, settings);
  if (from === null) return;
  const before = own.outside.filter((row) => atOf(row) < from.limit);
  if (!tooMany(before, own)) {
    for (const row of before) impossible(row, "records-before-birth", from.born, settings);
    return;
  }
  for (const stay of animal)
    for (const column of ["birth_date_earliest", "birth_date_latest"])
      doubtDate(stay, column, "records-born-after-rows", before.length, own.count);
}

function checkArrival(animal: readonly DraftRow[], own: OwnRows): void {
  const first = arrivedAt(animal);
  const before = own.outside.filter((row) => atOf(row) < first - dayMs);
  if (tooMany(before, own)) {
    for (const stay of animal)
      doubtDate(stay, "admitted_at", "records-arrival-after-rows", before.length, own.count);
    return;
  }
  for (const row of before)
    row.note(
      notice(
        "records-before-arrival",
        "problem",
        { at: atOf(row), admitted: first },
        placeOf(row, "at"),
      ),
    );
}

function checkEnd(animal: readonly DraftRow[], own: OwnRows, settings: StudySettings): void {
  const sorted = [...animal].sort((a, b) => arrivalOf(a) - arrivalOf(b));
  sorted.forEach((stay, i) => {
    const end = endOf(stay, settings);
    if (end === Number.POSITIVE_INFINITY) return;
    const outcomeDate = stay.get("outcomeDate") as CivilDate;
    const next = sorted[i + 1];
    const until = next === undefined ? Number.POSITIVE_INFINITY : arrivalOf(next) - dayMs;
    const late = own.outside.filter((row) => atOf(row) > end && atOf(row) < until);
    const died = isDeath(stay.get("outcome") as Outcome | null);
    if (died && late.length < TOO_MANY) {
      for (const row of late) impossible(row, "records-after-death", outcomeDate, settings);
      return;
    }
    const code = died ? "records-after-death" : "records-after-leaving";
    for (const row of late)
      row.note(notice(code, "problem", { at: atOf(row), date: outcomeDate }, placeOf(row, "at")));
  });
}

const arrivalOf = (stay: DraftRow) =>
  (stay.get("admittedAt") as number | null) ?? Number.NEGATIVE_INFINITY;

/** The date of the animals table that many rows contradict: lost, where one stands there. */
function doubtDate(
  animal: DraftRow,
  column: string,
  code: "records-born-after-rows" | "records-arrival-after-rows",
  count: number,
  of: number,
): void {
  if ((written(animal, column) ?? "").trim() !== "")
    loseCell(animal, column, { code, parameters: { count, of } });
  else if (column === "birth_date_earliest") animal.set("birthDateEarliest", null);
  else if (column === "birth_date_latest") animal.set("birthDateLatest", null);
}

function impossible(
  row: DraftRow,
  code: "records-before-birth" | "records-after-death",
  date: CivilDate,
  settings: StudySettings,
): void {
  const place = placeOf(row, "at");
  row.fault ??= {
    column: "at",
    value: written(row, "at"),
    reason: notice(code, "problem", { at: atOf(row), date }, place),
    suggestion: exchangeHint(row, settings, date, place),
  };
}

/** What day and month exchanged would give, or a plain request to check. */
function exchangeHint(
  row: DraftRow,
  settings: StudySettings,
  date: CivilDate,
  place: Notice["place"] & object,
): Notice {
  const exchanged = exchangeDayMonth(civilDayOf(atOf(row), settings.zone));
  return exchanged === null
    ? notice("suggest-check-dates", "info", { date }, place)
    : notice("suggest-exchanged-date", "info", { exchanged, date }, place);
}
