import { notice } from "../core/notice.js";
import { addDays, civilDayOf } from "../units/calendar.js";
import { dayMs } from "../units/day-ms.js";
import type { DraftRow, Drafts } from "./draft-row.js";
import { placeOf, setAside } from "./set-aside.js";
import type { StudySettings } from "./study.js";

/**
 * One id on several rows of the animals table. Stays that follow each other are
 * an animal that came back, unless sex, birth or name contradict each other:
 * then the id was used again, and the earlier animal with its own rows is kept
 * apart under the id with its season behind it. In any other case one row
 * stands, the one that keeps the animal in care, and the others are set aside.
 * All of it is asked about, and nobody is lost meanwhile.
 */
export function settleStays(drafts: Drafts, settings: StudySettings): void {
  const byId = new Map<string, DraftRow[]>();
  for (const draft of drafts.get("animals") ?? []) {
    const id = draft.get("animalId");
    if (draft.fault !== null || typeof id !== "string") continue;
    const rows = byId.get(id);
    if (rows === undefined) byId.set(id, [draft]);
    else rows.push(draft);
  }
  for (const [id, rows] of byId) {
    if (rows.length === 1) continue;
    const stays = inSequence(rows, settings);
    if (stays === null) keepOne(id, rows);
    else for (let i = 0; i + 1 < stays.length; i++) join(id, stays, i, drafts, settings);
  }
}

/** The rows in order of time where each stay ended before the next began, else null. */
function inSequence(rows: readonly DraftRow[], settings: StudySettings): DraftRow[] | null {
  if (rows.some((r) => r.get("admittedAt") === null)) return null;
  const sorted = [...rows].sort((a, b) => begin(a) - begin(b));
  const follow = sorted.slice(1).every((next, i) => {
    const [outcome, outcomeDate] = [sorted[i]!.get("outcome"), sorted[i]!.get("outcomeDate")];
    if (outcome === null || outcome === "in care" || typeof outcomeDate !== "string") return false;
    return outcomeDate <= addDays(civilDayOf(begin(next), settings.zone), 1);
  });
  return follow ? sorted : null;
}

const begin = (row: DraftRow) => row.get("admittedAt") as number;

function join(
  id: string,
  stays: readonly DraftRow[],
  i: number,
  drafts: Drafts,
  settings: StudySettings,
): void {
  const [earlier, later] = [stays[i]!, stays[i + 1]!];
  const again = contradict(earlier, later);
  const code = again ? "records-id-used-again" : "records-came-back";
  const asked = (row: DraftRow, other: DraftRow, apart: string) =>
    row.note(
      notice(
        code,
        "problem",
        { name: id, apart, line: other.line, file: other.file },
        placeOf(row),
      ),
    );
  const season = earlier.get("season") ?? civilDayOf(begin(earlier), settings.zone).slice(0, 4);
  const apart = again ? `${id} (${String(season)})` : id;
  asked(later, earlier, apart);
  asked(earlier, later, apart);
  if (!again) return;
  const until = begin(later) - dayMs;
  const since = i === 0 ? Number.NEGATIVE_INFINITY : begin(stays[i - 1]!) - dayMs;
  earlier.set("animalId", apart);
  for (const [table, rows] of drafts) {
    if (table === "animals") continue;
    for (const row of rows) {
      if (row.get("animalId") !== id) continue;
      const at = row.get("at") ?? row.get("from");
      if (typeof at === "number" && at >= since && at < until) row.set("animalId", apart);
    }
  }
}

/** Two rows that cannot be one animal. */
function contradict(a: DraftRow, b: DraftRow): boolean {
  const differ = (key: string) => {
    const [x, y] = [a.get(key), b.get(key)].map((v) =>
      typeof v === "string" ? v.toLowerCase() : null,
    );
    return x !== null && y !== null && x !== y;
  };
  const sexes = [a.get("sex"), b.get("sex")];
  const born = (row: DraftRow) => [row.get("birthDateEarliest"), row.get("birthDateLatest")];
  const [first, last] = [born(a), born(b)] as [(string | null)[], (string | null)[]];
  const apart = (x: (string | null)[], y: (string | null)[]) =>
    typeof x[1] === "string" && typeof y[0] === "string" && x[1] < y[0];
  return (
    (!sexes.includes("unknown") && differ("sex")) ||
    differ("name") ||
    differ("species") ||
    apart(first, last) ||
    apart(last, first)
  );
}

function keepOne(id: string, rows: readonly DraftRow[]): void {
  const here = (row: DraftRow) => row.get("outcome") === null || row.get("outcome") === "in care";
  const kept = rows.find(here) ?? rows[0]!;
  for (const row of rows)
    if (row !== kept)
      setAside(row, "animal_id", "records-name-twice", "suggest-another-name", {
        name: id,
        line: kept.line,
        file: kept.file,
      });
}
