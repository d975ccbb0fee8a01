import { toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { DatedFile } from "./check-date-styles.js";
import type { DraftRow } from "./draft-row.js";
import type { TimedEntry } from "./layouts/day-runs.js";
import { nightUntil } from "./layouts/night-dates.js";
import { looksLikeTwelveHours } from "./layouts/twelve-hours.js";
import { setAside } from "./set-aside.js";
import type { StudyFile } from "./settings.js";

const timed = new Set(["weighings", "feeds", "observations"]);
/** How many rows of a file are looked at before it is decided whether to look at all. */
const HEAD = 2000;

/**
 * Looks at the clock times of a file together. A clock of twelve hours without
 * am and pm, read as it stands, is wrong by half a day, and small hours under
 * the date of the evening before by a whole one: rows that this may concern are
 * set aside until study.json says how the file is meant.
 */
export function checkClocks(files: readonly DatedFile[], study: StudyFile): void {
  for (const file of files) {
    const at = file.dateColumns.find((c) => c.name === "at");
    if (at === undefined || !timed.has(file.table)) continue;
    const agreed = new Set((study.layouts.get(file.file) ?? []).map((step) => step.layout));
    if (agreed.has("times as written")) continue;
    const entries = (rows: readonly DraftRow[]) => timedRows(rows, at.index, study.settings.zone);
    const head = entries(file.rows.slice(0, HEAD));
    if (!agreed.has("twelve hours") && looksLikeTwelveHours(head)) {
      for (const { row } of entries(file.rows))
        setAside(file.rows[row]!, "at", "records-half-of-day-doubtful", "suggest-clock-layout", {});
      continue;
    }
    if (agreed.has("night under the evening's date")) continue;
    const until = nightUntil(head);
    if (until === null) continue;
    for (const { row, minute } of entries(file.rows))
      if (minute < until)
        setAside(file.rows[row]!, "at", "records-night-date-doubtful", "suggest-clock-layout", {});
  }
}

/** Rows that say a clock time, without am or pm, as days and minutes of the study's zone. */
function timedRows(rows: readonly DraftRow[], column: number, zone: string): TimedEntry[] {
  const entries: TimedEntry[] = [];
  rows.forEach((draft, row) => {
    const at = draft.values["at"];
    if (draft.fault !== null || typeof at !== "number") return;
    const text = (draft.read ?? draft.raw)[column] ?? "";
    if (!/\d[:.h]\d\d|[\sT]\d{3,4}$/.test(text) || /[ap]\.?m\b|Z$|[+-]\d\d:?\d\d$/i.test(text))
      return;
    const local = toLocal(at, zone);
    const day = Math.floor(local / dayMs);
    const v = draft.values;
    const whose = JSON.stringify([v["animalId"], v["groupId"], v["dietId"], v["kind"]]);
    entries.push({ whose, day, minute: Math.floor((local - day * dayMs) / 60_000), row });
  });
  return entries;
}
