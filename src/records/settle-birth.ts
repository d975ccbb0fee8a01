import { notice } from "../core/notice.js";
import { addDays, type CivilDate, civilDayOf } from "../units/calendar.js";
import { ABOUT_DAYS, type RoughDate } from "../units/read-rough-date.js";
import { type DraftRow, written } from "./draft-row.js";
import { loseCell } from "./lose-cell.js";
import { placeOf } from "./set-aside.js";
import type { StudySettings } from "./study.js";

interface Days {
  readonly from: CivilDate;
  readonly to: CivilDate;
}

/**
 * Makes the first and the last possible day of birth of what the two cells say.
 * One cell alone gives both ends. A rough date is read as a range and told; one
 * that needs the arrival to be read, and has none, is lost. An end that stands
 * in an unread cell stays unknown: the other end is not taken for it.
 */
export function settleBirth(draft: DraftRow, settings: StudySettings): void {
  const at = draft.get("admittedAt");
  const arrival = typeof at === "number" ? civilDayOf(at, settings.zone) : null;
  const read = (column: string, key: string): Days | null => {
    const rough = draft.get(key) as RoughDate | null;
    draft.set(key, null);
    if (rough === null) return null;
    const days = daysOf(rough, arrival, draft.get("season") as string | null);
    if (days === null) {
      loseCell(draft, column, notice("records-date-needs-arrival", "problem"));
      return null;
    }
    if (rough.kind === "days" && days.from === days.to) return days;
    // Nobody is born after its arrival: a rough date reaches no further.
    const to = arrival !== null && days.from <= arrival && arrival < days.to ? arrival : days.to;
    draft.note(
      notice(
        "records-rough-date",
        "caution",
        { written: written(draft, column)?.trim() ?? "", from: days.from, to, about: ABOUT_DAYS },
        placeOf(draft, column),
      ),
    );
    return { from: days.from, to };
  };
  const earliest = read("birth_date_earliest", "birthDateEarliest");
  const latest = read("birth_date_latest", "birthDateLatest");
  const unread = draft.unread ?? {};
  const first = earliest?.from ?? ("birthDateEarliest" in unread ? null : latest?.from) ?? null;
  const last = latest?.to ?? ("birthDateLatest" in unread ? null : earliest?.to) ?? null;
  if (first !== null && last !== null && first > last) {
    const parameters = { begin: first, end: last };
    const reason = notice("records-ends-before-begin", "problem", parameters);
    loseCell(draft, "birth_date_earliest", reason);
    loseCell(draft, "birth_date_latest", reason);
    return;
  }
  draft.set("birthDateEarliest", first);
  draft.set("birthDateLatest", last);
}

function daysOf(rough: RoughDate, arrival: CivilDate | null, season: string | null): Days | null {
  switch (rough.kind) {
    case "days":
      return rough;
    case "before arrival":
      return arrival === null
        ? null
        : {
            from: addDays(arrival, -Math.ceil(rough.most)),
            to: addDays(arrival, -Math.floor(rough.least)),
          };
    case "no year": {
      const known = arrival?.slice(0, 4) ?? (/^\d{4}$/.test(season ?? "") ? season : null);
      if (known === null) return null;
      const same = rough.inYear(Number(known));
      const late = same.kind === "days" && arrival !== null && same.from > arrival;
      const days = late ? rough.inYear(Number(known) - 1) : same;
      return days.kind === "days" ? days : null;
    }
    case "not a date":
      return null;
  }
}
