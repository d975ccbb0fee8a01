import type { Notice } from "../core/notice.js";
import { dayMs } from "../units/day-ms.js";
import { newestAmongOthers } from "./default-day.js";
import type { DraftRow, Drafts } from "./draft-row.js";
import type { Instant, Question } from "./study.js";

/**
 * What people must be asked about single rows: rows set aside, cells that could
 * not be read, and rows that contradict others. Each names the animals it may
 * concern and, where its own time is lost or in doubt, the time of the row
 * beside it, so that whoever wrote it can still remember.
 */
export function questionsOf(drafts: Drafts, known: ReadonlySet<string>): Question[] {
  const found: Question[] = [];
  const within = written(drafts);
  for (const rows of drafts.values())
    rows.forEach((draft, i) => {
      const asked = draft.notices.filter(isAsked);
      if (draft.fault === null && asked.length === 0) return;
      const use = ofFood(draft) ? usersOf(draft, drafts) : null;
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
  const id = draft.values["animalId"];
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

/** How long before its last use a diet or batch still concerns an animal. */
const USED_DAYS = 2;

/**
 * Who was fed a diet or batch within two days of its last use, or is ordered it,
 * and when it was last used; a row without its name concerns whoever reads it now.
 */
function usersOf(draft: DraftRow, drafts: Drafts): Pick<Question, "animals" | "at"> {
  const key = draft.table === "diets" ? "dietId" : "batchId";
  const id = draft.values[key];
  const uses: { readonly animal: unknown; readonly at: number }[] = [];
  const newest = newestOf(drafts);
  for (const { fault, values } of drafts.get("feeds") ?? []) {
    if (fault !== null || typeof values["at"] !== "number") continue;
    if (id === undefined || values[key] === id)
      uses.push({ animal: values["animalId"], at: values["at"] });
  }
  for (const { fault, values } of drafts.get("plans") ?? []) {
    if (fault !== null || key !== "dietId" || values["dietId"] !== id) continue;
    const to = (values["to"] as { readonly value: number | null } | null)?.value ?? newest;
    uses.push({ animal: values["animalId"], at: Math.min(to, newest) });
  }
  const last = uses.reduce((at, use) => Math.max(at, use.at), Number.NEGATIVE_INFINITY);
  const late = uses.filter((use) => use.at > last - USED_DAYS * dayMs);
  const animals = late.map((use) => use.animal).filter((a) => typeof a === "string");
  return {
    animals: id === undefined ? [] : [...new Set(animals)],
    at: Number.isFinite(last) ? last : null,
  };
}

function newestOf(drafts: Drafts): Instant {
  const at = (drafts.get("feeds") ?? []).flatMap(({ fault, values }) =>
    fault === null ? [values["at"] as number] : [],
  );
  return newestAmongOthers(Float64Array.from(at).sort()) ?? Number.NEGATIVE_INFINITY;
}

/** The stretch in which rows were written that stand with others, and a day and a half around it. */
function written(drafts: Drafts): (at: Instant) => boolean {
  const instants = (["weighings", "feeds", "observations"] as const).flatMap((table) =>
    (drafts.get(table) ?? []).flatMap(({ fault, values }) =>
      fault === null ? [values["at"] as number] : [],
    ),
  );
  const sorted = Float64Array.from(instants).sort();
  const newest = newestAmongOthers(sorted);
  if (newest === null) return () => true;
  const oldest = sorted[0]!;
  return (at) => at > oldest - 1.5 * dayMs && at < newest + 1.5 * dayMs;
}

/** The row's own time, unless it is what is in doubt; else that of the nearest row above or below. */
function timeOf(
  rows: readonly DraftRow[],
  i: number,
  within: (at: Instant) => boolean,
): Instant | null {
  const own = ownTime(rows[i]!, within);
  if (own !== null) return own;
  for (let step = 1; step <= 50; step++)
    for (const j of [i - step, i + step]) {
      const near = rows[j];
      if (near === undefined || near.file !== rows[i]!.file) continue;
      const at = ownTime(near, within);
      if (at !== null) return at;
    }
  return null;
}

function ownTime(
  { values, notices, fault }: DraftRow,
  within: (at: Instant) => boolean,
): Instant | null {
  const at = values["at"] ?? values["from"] ?? values["madeAt"];
  const doubted =
    fault?.column === "at" ||
    notices.some((n) => n.code === "records-date-alone" || n.code === "records-date-exchanged");
  return typeof at === "number" && !doubted && within(at) ? at : null;
}
