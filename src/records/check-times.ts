import { notice } from "../core/notice.js";
import { civilDayOf, localInstant, numberOfDate, toLocal } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import { exchangeDayMonth } from "../units/read-time.js";
import { checkStays } from "./check-stays.js";
import { newestAmongOthers, standAlone } from "./default-day.js";
import type { DraftRow, Drafts } from "./draft-row.js";
import { placeOf } from "./set-aside.js";
import type { StudySettings } from "./study.js";

const timed = ["weighings", "feeds", "observations"] as const;

/**
 * Checks what must come before what: nothing before birth, nothing after death,
 * little before arrival or after leaving; stays that overlap; and a
 * date that stands out of the order of its file while day and month exchanged
 * would fit it in.
 */
export function checkTimes(drafts: Drafts, settings: StudySettings): void {
  for (const table of timed)
    noteExchangedDates(
      (drafts.get(table) ?? []).filter((d) => d.fault === null),
      settings,
    );
  checkStays(drafts, settings);
  noteAlone(drafts);
  noteOverlaps(drafts.get("housing") ?? []);
  noteEarlyWeaning(drafts);
}

const at = (draft: DraftRow) => draft.values["at"] as number;

/** A date far from every other: nothing else was written down then. */
function noteAlone(drafts: Drafts): void {
  const rows = timed.flatMap((table) => (drafts.get(table) ?? []).filter((d) => d.fault === null));
  const alone = standAlone(rows.map(at));
  for (const draft of rows)
    if (alone(at(draft)))
      draft.notices.push(
        notice("records-date-alone", "problem", { at: at(draft) }, placeOf(draft, "at")),
      );
  noteFarOrders(drafts, newestAmongOthers(Float64Array.from(rows.map(at)).sort()));
}

/** An order may be written some weeks ahead, and hardly further. */
const aheadMs = 60 * dayMs;

/** An order that begins long after the newest record is no order for anybody now, and perhaps one of another year. */
function noteFarOrders(drafts: Drafts, newest: number | null): void {
  if (newest === null) return;
  for (const draft of drafts.get("plans") ?? []) {
    const from = draft.values["from"];
    if (draft.fault === null && typeof from === "number" && from > newest + aheadMs)
      draft.notices.push(
        notice("records-order-far-ahead", "problem", { at: from }, placeOf(draft, "from")),
      );
  }
}

/**
 * Files are mostly written down in order of time. A row more than three days
 * away from both its neighbours of the same animal, which themselves are near
 * each other, and near them once day and month are exchanged, is told.
 */
function noteExchangedDates(rows: readonly DraftRow[], settings: StudySettings): void {
  const byAnimal = new Map<string, DraftRow[]>();
  for (const draft of rows) {
    const key = `${draft.file}|${String(draft.values["animalId"] ?? draft.values["groupId"])}`;
    const list = byAnimal.get(key);
    if (list === undefined) byAnimal.set(key, [draft]);
    else list.push(draft);
  }
  for (const list of byAnimal.values()) {
    for (let i = 1; i + 1 < list.length; i++) {
      const before = at(list[i - 1]!);
      const here = at(list[i]!);
      const after = at(list[i + 1]!);
      if (Math.abs(after - before) > 6 * dayMs) continue;
      if (Math.min(Math.abs(here - before), Math.abs(here - after)) < 3 * dayMs) continue;
      const day = civilDayOf(here, settings.zone);
      const exchanged = exchangeDayMonth(day);
      if (exchanged === null) continue;
      const shift = (numberOfDate(exchanged) - numberOfDate(day)) * dayMs;
      const moved = localInstant(toLocal(here, settings.zone) + shift, settings.zone);
      if (Math.min(Math.abs(moved - before), Math.abs(moved - after)) > 3 * dayMs) continue;
      const draft = list[i]!;
      draft.notices.push(
        notice("records-date-exchanged", "problem", { day, exchanged }, placeOf(draft, "at")),
      );
    }
  }
}

function noteOverlaps(rows: readonly DraftRow[]): void {
  const groups = new Map<string, DraftRow[]>();
  for (const draft of rows) {
    const key = draft.values["animalId"];
    if (draft.fault !== null || typeof key !== "string") continue;
    const list = groups.get(key);
    if (list === undefined) groups.set(key, [draft]);
    else list.push(draft);
  }
  const from = (d: DraftRow) => d.values["from"] as number;
  for (const list of groups.values()) {
    list.sort((a, b) => from(a) - from(b) || a.line - b.line);
    for (let i = 1; i < list.length; i++) {
      const [earlier, later] = [list[i - 1]!, list[i]!];
      const end = earlier.values["to"] as number | null;
      // Without an end a row holds until it is replaced: that is no overlap.
      if (end !== null && end > from(later))
        later.notices.push(
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
      .filter((d) => d.fault === null && d.values["kind"] === "solid")
      .map((d) => d.values["dietId"] as string),
  );
  const first = new Map<string, number>();
  for (const feed of drafts.get("feeds") ?? []) {
    const animal = feed.values["animalId"];
    if (feed.fault !== null || typeof animal !== "string") continue;
    if (!solids.has(String(feed.values["dietId"]))) continue;
    const fed = at(feed);
    if (fed < (first.get(animal) ?? Number.POSITIVE_INFINITY)) first.set(animal, fed);
  }
  for (const seen of drafts.get("observations") ?? []) {
    if (seen.fault !== null || seen.values["kind"] !== "milestone") continue;
    if (!/^weaned|^weaning (?:ended|complete|done)/i.test(String(seen.values["value"] ?? "")))
      continue;
    const solid = first.get(String(seen.values["animalId"]));
    const weaned = at(seen);
    if (solid !== undefined && weaned < solid)
      seen.notices.push(
        notice(
          "records-weaned-before-solid",
          "problem",
          { at: weaned, solid },
          placeOf(seen, "at"),
        ),
      );
  }
}
