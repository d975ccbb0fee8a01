import type { Notice } from "../core/notice.js";
import { dayMs } from "../units/day-ms.js";
import { newestAmongOthers } from "./default-day.js";
import type { DraftRow, Drafts } from "./draft-row.js";
import { goodInstants } from "./good-instants.js";
import type { Rows } from "./rows.js";
import type { Instant, Question } from "./study.js";
import { usersOfFood } from "./users-of-food.js";

/**
 * What people must be asked about single rows: rows set aside, cells that could
 * not be read, and rows that contradict others. Each names the animals it may
 * concern and, where its own time is lost or in doubt, the time of the row
 * beside it, so that whoever wrote it can still remember.
 */
export function questionsOf(drafts: Drafts, known: ReadonlySet<string>): Question[] {
  const found: Question[] = [];
  let stretch: ((at: Instant) => boolean) | null = null;
  const within = (at: Instant) => {
    stretch ??= written(drafts);
    return stretch(at);
  };
  const usersOf = usersOfFood(drafts);
  for (const rows of drafts.values())
    rows.forEach((draft, i) => {
      if (draft.isQuiet) return;
      const asked = draft.notices.filter(isAsked);
      if (draft.fault === null && asked.length === 0) return;
      const use = ofFood(draft) ? usersOf(draft) : null;
      const animals = use?.animals ?? animalsOf(draft, known);
      const base = {
        table: draft.table,
        file: draft.file,
        line: draft.line,
        animals,
        at: draft.table === "animals" ? null : (use?.at ?? timeOf(rows, i, within)),
      };
      if (draft.fault !== null) {
        const { column, value, reason, suggestion } = draft.fault;
        found.push({
          ...base,
          column,
          written: value,
          row: draft.raw.map((cell) => cell.trim()).join(", "),
          setAside: true,
          what: reason,
          todo: suggestion,
        });
        return;
      }
      for (const what of asked)
        found.push({
          ...base,
          column: what.place?.column ?? null,
          written:
            typeof what.parameters["written"] === "string" ? what.parameters["written"] : null,
          row: null,
          setAside: false,
          what,
          todo: null,
        });
    });
  return found;
}

/** Told of each row and shown elsewhere: who stands in has a sentence of its own. */
const shownElsewhere = new Set([
  "records-animal-without-row",
  "records-animal-row-unusable",
  "records-after-leaving",
  "records-after-death",
  "records-before-arrival",
]);

/** What no cell lost and still changes what is known of an animal. */
const alwaysAsked = new Set(["records-species-not-listed", "records-tare-left-blank"]);

/** Cells that were lost or read with a remark, and what cannot be true. */
function isAsked(n: Notice): boolean {
  if (shownElsewhere.has(n.code)) return false;
  if (n.level !== "caution") return n.level === "problem";
  const { written, close } = n.parameters;
  return typeof written === "string" || typeof close === "string" || alwaysAsked.has(n.code);
}

function animalsOf(draft: DraftRow, known: ReadonlySet<string>): string[] {
  const id = draft.get("animalId");
  const { animals, close } = draft.fault?.reason.parameters ?? {};
  if (Array.isArray(animals)) return animals.map(String);
  const own = typeof id === "string" ? [id] : [];
  if (typeof close === "string") return [close, ...own];
  if (own.length > 0) return own;
  // A line that could not be cut into cells may still name an animal.
  const words = new Set(draft.raw.flatMap((cell) => cell.split(/[\s,;|"]+/)));
  return [...words].filter((word) => known.has(word));
}

/** What is fed is no animal's own: it concerns whoever gets it. */
const ofFood = ({ table }: DraftRow) =>
  table === "diets" || table === "batches" || table === "ingredients";

/** The stretch in which rows were written that stand with others, and a day and a half around it. */
function written(drafts: Drafts): (at: Instant) => boolean {
  const sorted = goodInstants(drafts).sort();
  const newest = newestAmongOthers(sorted);
  if (newest === null) return () => true;
  const oldest = sorted[0]!;
  return (at) => at > oldest - 1.5 * dayMs && at < newest + 1.5 * dayMs;
}

/** The row's own time, unless it is what is in doubt; else that of the nearest row above or below. */
function timeOf(rows: Rows<DraftRow>, i: number, within: (at: Instant) => boolean): Instant | null {
  const own = ownTime(rows.at(i)!, within);
  if (own !== null) return own;
  for (let step = 1; step <= 50; step++)
    for (const j of [i - step, i + step]) {
      const near = rows.at(j);
      if (near === undefined || near.file !== rows.at(i)!.file) continue;
      const at = ownTime(near, within);
      if (at !== null) return at;
    }
  return null;
}

function ownTime(draft: DraftRow, within: (at: Instant) => boolean): Instant | null {
  const { notices, fault } = draft;
  const at = draft.get("at") ?? draft.get("from") ?? draft.get("madeAt");
  const doubted =
    fault?.column === "at" ||
    notices.some((n) => n.code === "records-date-alone" || n.code === "records-date-exchanged");
  return typeof at === "number" && !doubted && within(at) ? at : null;
}
