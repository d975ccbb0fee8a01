import { notice } from "../core/notice.js";
import { toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { DatedFile } from "./check-date-styles.js";
import type { DraftRow } from "./draft-row.js";
import type { TimedEntry } from "./layouts/day-runs.js";
import { nightUntil } from "./layouts/night-dates.js";
import { looksLikeTwelveHours, maybeTwelveHours } from "./layouts/twelve-hours.js";
import { placeOf, setAside } from "./set-aside.js";
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
  const open = files.flatMap((file) => {
    const at = file.dateColumns.find((c) => c.name === "at");
    const agreed = new Set((study.layouts.get(file.file) ?? []).map((step) => step.layout));
    if (at === undefined || !timed.has(file.table) || agreed.has("times as written")) return [];
    const entries = (rows: readonly DraftRow[], offsets: "read" | "left out" = "left out") =>
      timedRows(rows, at.index, study.settings.zone, offsets);
    const head = entries(file.rows.slice(0, HEAD));
    const open = !agreed.has("twelve hours") && !saysHalves(file, at.index);
    const maybe = open && maybeTwelveHours(head);
    return [{ file, agreed, entries, maybe, halves: maybe && looksLikeTwelveHours(head) }];
  });
  // Who writes one file by a clock of twelve hours writes the others by it, too.
  const somewhere = open.some(({ halves, agreed }) => halves || agreed.has("twelve hours"));
  if (somewhere) askElsewhere(files);
  for (const { file, agreed, entries, maybe, halves } of open) {
    if (agreed.has("twelve hours")) continue;
    if (halves || (somewhere && maybe)) {
      for (const { row } of entries(file.rows))
        setAside(file.rows[row]!, "at", "records-half-of-day-doubtful", "suggest-clock-layout", {});
      continue;
    }
    if (agreed.has("night under the evening's date")) continue;
    // A date stays the evening's however exactly the clock is written.
    const until = nightUntil(entries(file.rows.slice(0, HEAD), "read"));
    if (until === null) continue;
    for (const { row, minute } of entries(file.rows, "read"))
      if (minute < until)
        setAside(file.rows[row]!, "at", "records-night-date-doubtful", "suggest-clock-layout", {});
  }
}

/**
 * In a study with a clock of twelve hours the other tables (arrivals, batches,
 * orders) may have it too; too few rows to tell, so each such time is asked about.
 */
function askElsewhere(files: readonly DatedFile[]): void {
  for (const file of files) {
    if (timed.has(file.table)) continue;
    for (const { name, index } of file.dateColumns)
      for (const draft of file.rows) {
        const text = draft.cellRead(index);
        const hour = Number(/[\sT](\d{1,2})[:.h]\d\d/.exec(text)?.[1] ?? 0);
        if (draft.fault !== null || hour < 1 || hour > 12) continue;
        if (withHalf.test(text) || withOffset.test(text)) continue;
        const place = placeOf(draft, name);
        draft.note(notice("records-half-of-day-elsewhere", "problem", {}, place));
      }
  }
}

const withHalf = /\d\s*[ap]\.?m\b/i;
const withOffset = /Z$|:\d\d[+-]\d\d:?\d\d$/i;

/** Whether times of a file say am or pm. */
const saysHalves = (file: DatedFile, column: number) =>
  file.rows.slice(0, HEAD).some((row) => withHalf.test(row.cellRead(column)));

/** What tells apart whose times are compared. */
const whoseKeys = ["animalId", "groupId", "dietId", "kind"];

/** Rows that say a clock time as days and minutes of the study's zone. */
function timedRows(
  rows: readonly DraftRow[],
  column: number,
  zone: string,
  offsets: "read" | "left out",
): TimedEntry[] {
  const entries: TimedEntry[] = [];
  rows.forEach((draft, row) => {
    const at = draft.get("at");
    if (draft.fault !== null || typeof at !== "number") return;
    const text = draft.cellRead(column);
    if (!/\d[:.h]\d\d|[\sT]\d{3,4}$|\d\s*[ap]\.?m\b/i.test(text)) return;
    if (offsets === "left out" && withOffset.test(text)) return;
    const local = toLocal(at, zone);
    const day = Math.floor(local / dayMs);
    const whose = JSON.stringify(whoseKeys.map((key) => draft.get(key) ?? null));
    entries.push({ whose, day, minute: Math.floor((local - day * dayMs) / 60_000), row });
  });
  return entries;
}
