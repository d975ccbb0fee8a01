import { notice } from "../core/notice.js";
import { civilDayOf, localInstant, numberOfDate, toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { exchangeDayMonth } from "../units/read-time.js";
import { checkStays } from "./check-stays.js";
import { newestAmongOthers, standAlone, usualStep } from "./default-day.js";
import type { DraftRow, Drafts } from "./draft-row.js";
import { goodInstants, timedTables } from "./good-instants.js";
import type { Rows } from "./rows.js";
import { placeOf } from "./set-aside.js";
import type { StudySettings } from "./study.js";

/**
 * Checks what must come before what: nothing before birth, nothing after death,
 * little before arrival or after leaving; stays that overlap; and a
 * date that stands out of the order of its file while day and month exchanged
 * would fit it in.
 */
export function checkTimes(drafts: Drafts, settings: StudySettings): void {
  for (const table of timedTables) noteExchangedDates(drafts.get(table) ?? [], settings);
  checkStays(drafts, settings);
  noteAlone(drafts);
  noteOverlaps(drafts.get("housing") ?? []);
  noteEarlyWeaning(drafts);
}

const at = (draft: DraftRow) => draft.get("at") as number;

/** A date far from every other: nothing else was written down then. */
function noteAlone(drafts: Drafts): void {
  const sorted = goodInstants(drafts).sort();
  const step = usualStep(sorted);
  const newest = newestAmongOthers(sorted, step);
  const alone = standAlone(sorted, step);
  if (alone.size > 0)
    for (const table of timedTables)
      for (const draft of drafts.get(table) ?? [])
        if (draft.fault === null && alone.has(at(draft)))
          draft.note(
            notice("records-date-alone", "problem", { at: at(draft) }, placeOf(draft, "at")),
          );
  noteFarOrders(drafts, newest);
}

/** An order may be written some weeks ahead, and hardly further. */
const aheadMs = 60 * dayMs;

/** An order that begins long after the newest record is no order for anybody now, and perhaps one of another year. */
function noteFarOrders(drafts: Drafts, newest: number | null): void {
  if (newest === null) return;
  for (const draft of drafts.get("plans") ?? []) {
    const from = draft.get("from");
    if (draft.fault === null && typeof from === "number" && from > newest + aheadMs)
      draft.note(
        notice("records-order-far-ahead", "problem", { at: from }, placeOf(draft, "from")),
      );
  }
}

/**
 * Files are mostly written down in order of time. A row more than three days
 * away from both its neighbours of the same animal, which themselves are near
 * each other, and near them once day and month are exchanged, is told.
 */
function noteExchangedDates(rows: Rows<DraftRow>, settings: StudySettings): void {
  /** The last two rows of each animal or group, by file. */
  const files = new Map<string, Map<unknown, [DraftRow | null, DraftRow]>>();
  for (const after of rows) {
    if (after.fault !== null) continue;
    let lasts = files.get(after.file);
    if (lasts === undefined) {
      lasts = new Map();
      files.set(after.file, lasts);
    }
    const whose = after.get("animalId") ?? after.get("groupId");
    const last = lasts.get(whose);
    if (last === undefined) lasts.set(whose, [null, after]);
    else {
      const [before, here] = last;
      if (before !== null) noteExchanged(at(before), here, at(after), settings);
      last[0] = here;
      last[1] = after;
    }
  }
}

function noteExchanged(
  before: number,
  draft: DraftRow,
  after: number,
  settings: StudySettings,
): void {
  const here = at(draft);
  if (Math.abs(after - before) > 6 * dayMs) return;
  if (Math.min(Math.abs(here - before), Math.abs(here - after)) < 3 * dayMs) return;
  const day = civilDayOf(here, settings.zone);
  const exchanged = exchangeDayMonth(day);
  if (exchanged === null) return;
  const shift = (numberOfDate(exchanged) - numberOfDate(day)) * dayMs;
  const moved = localInstant(toLocal(here, settings.zone) + shift, settings.zone);
  if (Math.min(Math.abs(moved - before), Math.abs(moved - after)) > 3 * dayMs) return;
  draft.note(notice("records-date-exchanged", "problem", { day, exchanged }, placeOf(draft, "at")));
}

function noteOverlaps(rows: Rows<DraftRow>): void {
  const groups = new Map<string, DraftRow[]>();
  for (const draft of rows) {
    const key = draft.get("animalId");
    if (draft.fault !== null || typeof key !== "string") continue;
    const list = groups.get(key);
    if (list === undefined) groups.set(key, [draft]);
    else list.push(draft);
  }
  const from = (d: DraftRow) => d.get("from") as number;
  for (const list of groups.values()) {
    list.sort((a, b) => from(a) - from(b) || a.line - b.line);
    for (let i = 1; i < list.length; i++) {
      const [earlier, later] = [list[i - 1]!, list[i]!];
      const end = earlier.get("to") as number | null;
      // Without an end a row holds until it is replaced: that is no overlap.
      if (end !== null && end > from(later))
        later.note(
          notice(
            "records-overlap",
            "caution",
            { line: earlier.line, from: from(later), to: end },
            placeOf(later, "from"),
          ),
        );
    }
  }
}

/** Weaned before the first solid was fed: one of the two dates is wrong. */
function noteEarlyWeaning(drafts: Drafts): void {
  const solids = new Set(
    (drafts.get("diets") ?? [])
      .filter((d) => d.fault === null && d.get("kind") === "solid")
      .map((d) => d.get("dietId") as string),
  );
  const first = new Map<string, number>();
  for (const feed of drafts.get("feeds") ?? []) {
    const animal = feed.get("animalId");
    if (feed.fault !== null || typeof animal !== "string") continue;
    if (!solids.has(String(feed.get("dietId")))) continue;
    const fed = at(feed);
    if (fed < (first.get(animal) ?? Number.POSITIVE_INFINITY)) first.set(animal, fed);
  }
  for (const seen of drafts.get("observations") ?? []) {
    if (seen.fault !== null || seen.get("kind") !== "milestone") continue;
    if (!/^weaned|^weaning (?:ended|complete|done)/i.test(String(seen.get("value") ?? "")))
      continue;
    const solid = first.get(String(seen.get("animalId")));
    const weaned = at(seen);
    if (solid !== undefined && weaned < solid)
      seen.note(
        notice(
          "records-weaned-before-solid",
          "problem",
          { at: weaned, solid },
          placeOf(seen, "at"),
        ),
      );
  }
}
