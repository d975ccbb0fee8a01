import { toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { minuteMs } from "../units/minute-ms.js";
import { type NumberColumn, WordColumn } from "./draft-columns.js";
import type { DraftRow } from "./draft-row.js";
import { maybeNights } from "./layouts/maybe-nights.js";
import type { Rows } from "./rows.js";

/**
 * Whether `findNightDates` can find anything among these rows of one file. Most files
 * are told at once, from their columns, that they hold no such night.
 */
export function mayGoPastMidnight(rows: Rows<DraftRow>, zone: string): boolean {
  const table = rows.at(0)?.of;
  if (table === undefined) return false;
  const code = (key: string) => {
    const column = table.columns.get(key);
    return (row: number) => (column instanceof WordColumn ? column.codeAt(row) : 0);
  };
  const [animal, group, diet, kind] = ["animalId", "groupId", "dietId", "kind"].map(code);
  const at = table.columns.get("at") as NumberColumn;
  return maybeNights((use) => {
    rows.forEach((draft) => {
      const row = draft.at;
      const instant = at.numberAt(row);
      if (Number.isNaN(instant) || !tellsTime(draft)) return;
      const local = toLocal(instant, zone);
      const day = Math.floor(local / dayMs);
      const minute = Math.floor((local - day * dayMs) / minuteMs);
      const whose = animal!(row) || group!(row);
      // Both numbers are those of words, of which there are fewer than 2 ** 26.
      use(day, minute, whose, whose * 2 ** 26 + (diet!(row) || kind!(row)));
    });
  });
}

/** A row that was not set aside and says the time of the day. */
export const tellsTime = (draft: DraftRow): boolean =>
  draft.fault === null && !draft.notices.some((n) => n.code === "records-time-of-day-missing");
