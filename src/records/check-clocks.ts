import { notice } from "../core/notice.js";
import type { DatedFile } from "./check-date-styles.js";
import { HEAD, saysHalf, saysOffset, timedEntry } from "./doubtful-times.js";
import type { DraftRow } from "./draft-row.js";
import { dayRuns, type TimedEntry } from "./layouts/day-runs.js";
import { findNightDates } from "./layouts/find-night-dates.js";
import type { LayoutStep } from "./layouts/layout-step.js";
import { looksLikeTwelveHours, maybeTwelveHours } from "./layouts/twelve-hours.js";
import { mayGoPastMidnight, tellsTime } from "./night-jumps.js";
import type { Rows } from "./rows.js";
import { placeOf, setAside } from "./set-aside.js";
import type { StudyFile } from "./settings.js";

const timed = new Set(["weighings", "feeds", "observations"]);
/** Up to when (minutes) a time may stand under another date because the night of another file does. */
const NIGHT = 5 * 60;

/** A file of records with what study.json says of its times. */
interface TimedFile extends DatedFile {
  readonly agreed: ReadonlySet<LayoutStep["layout"]>;
  readonly index: number;
  readonly zone: string;
  readonly halves: boolean;
  readonly maybe: boolean;
}

/**
 * Looks at the clock times of a file together. A clock of twelve hours without
 * am and pm, read as it stands, is wrong by half a day, and small hours under
 * the date of the evening before by a whole one: rows that this may concern are
 * set aside until study.json says how the file is meant.
 */
export function checkClocks(files: readonly DatedFile[], study: StudyFile): void {
  const open = files.flatMap((file) => timedFile(file, study));
  // Who writes one file by a clock of twelve hours writes the others by it, too.
  const somewhere = open.some(({ halves, agreed }) => halves || agreed.has("twelve hours"));
  if (somewhere) askElsewhere(files);
  const left: TimedFile[] = [];
  for (const file of open) {
    if (file.agreed.has("twelve hours")) continue;
    if (file.halves || (somewhere && file.maybe))
      for (const { row } of timedRows(file, file.rows, "left out"))
        setAside(
          file.rows.at(row)!,
          "at",
          "records-half-of-day-doubtful",
          "suggest-clock-layout",
          {},
        );
    else left.push(file);
  }
  const nights = left.map((file) => file.agreed.has(nightLayout) || askNights(file));
  if (nights.includes(true))
    for (const [i, file] of left.entries()) if (!nights[i]) askNightsElsewhere(file);
}

const nightLayout = "night under the evening's date";

function timedFile(file: DatedFile, study: StudyFile): TimedFile[] {
  const index = file.dateColumns.find((c) => c.name === "at")?.index;
  const agreed = new Set((study.layouts.get(file.file) ?? []).map((step) => step.layout));
  if (index === undefined || !timed.has(file.table) || agreed.has("times as written")) return [];
  const of = { ...file, index, agreed, zone: study.settings.zone };
  const head = timedRows(of, file.rows.slice(0, HEAD), "left out");
  const maybe = !agreed.has("twelve hours") && !saysHalves(file, index) && maybeTwelveHours(head);
  return [{ ...of, maybe, halves: maybe && looksLikeTwelveHours(head) }];
}

/** Sets aside what may belong to the next date; whether the file has that habit. */
function askNights(file: TimedFile): boolean {
  if (!mayGoPastMidnight(file.rows, file.zone)) return false;
  // A date stays the evening's however exactly the clock is written.
  const entries = timedRows(file, file.rows, "read");
  const signs = file.table === "observations";
  const found = findNightDates(entries, signs ? "of kinds" : "of time");
  if (found === null) return false;
  const { until, behind, odd } = found;
  const asked = until === null ? behind : [...entries.filter((e) => e.minute < until), ...odd];
  for (const { row } of asked) {
    const draft = file.rows.at(row)!;
    // A sign of which only the day is in doubt stays a sign: it may be a danger.
    if (signs && until === null)
      draft.note(notice("records-night-date-doubtful", "problem", {}, placeOf(draft, "at")));
    else setAside(draft, "at", "records-night-date-doubtful", "suggest-night-layout", {});
  }
  return until !== null;
}

/**
 * In a study with night feeds under the evening's date other files may have
 * them, too: small hours that stand alone under their date, where no order of
 * rows tells, are asked about.
 */
function askNightsElsewhere(file: TimedFile): void {
  for (const run of dayRuns(timedRows(file, file.rows, "read"))) {
    if (run.some((entry) => entry.minute >= NIGHT)) continue;
    for (const { row } of run) {
      const draft = file.rows.at(row)!;
      const place = placeOf(draft, "at");
      draft.note(notice("records-night-date-elsewhere", "problem", {}, place));
    }
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
        if (saysHalf(text) || saysOffset(text)) continue;
        const place = placeOf(draft, name);
        draft.note(notice("records-half-of-day-elsewhere", "problem", {}, place));
      }
  }
}

/** Whether times of a file say am or pm. */
const saysHalves = (file: DatedFile, column: number) =>
  file.rows.slice(0, HEAD).some((row) => saysHalf(row.cellRead(column)));

/** Rows that say a clock time as days and minutes of the study's zone. */
function timedRows(
  { index, zone }: Pick<TimedFile, "index" | "zone">,
  rows: Rows<DraftRow>,
  offsets: "read" | "left out",
): TimedEntry[] {
  const entries: TimedEntry[] = [];
  rows.forEach((draft, row) => {
    const at = draft.get("at");
    if (typeof at !== "number" || !tellsTime(draft)) return;
    if (offsets === "left out" && saysOffset(draft.cellRead(index))) return;
    const whose = String(draft.get("animalId") ?? draft.get("groupId") ?? "");
    // A row of nobody is set aside for that.
    if (whose === "") return;
    const kind = String(draft.get("dietId") ?? draft.get("kind") ?? "");
    entries.push(timedEntry(at, zone, { whose, kind, row }));
  });
  return entries;
}
