import { notice } from "../core/notice.js";
import { checkAnimal } from "./check-animal.js";
import { checkRepeats } from "./check-repeats.js";
import { nameGuesser } from "./closest-name.js";
import type { DraftRow, Drafts } from "./draft-row.js";
import { loseCell } from "./lose-cell.js";
import { saysNilByMouth } from "./order-words.js";
import type { Rows } from "./rows.js";
import { placeOf, setAside } from "./set-aside.js";
import { settleIds } from "./settle-ids.js";
import { settleStays } from "./settle-stays.js";
import type { AnimalRow, StudySettings, TableName } from "./study.js";

/**
 * Checks rows against each other: keys that stand twice, animals, diets and
 * batches that are not known, and what cannot be true inside one row. Order of
 * rows decides only which of two equal rows is kept (the earlier one). Returns
 * the animals that have records and no usable row in the animals table.
 */
export function checkRows(drafts: Drafts, settings: StudySettings): AnimalRow[] {
  const rows = (table: TableName) => drafts.get(table) ?? [];
  for (const draft of rows("animals")) checkAnimal(draft, settings);
  settleStays(drafts, settings);
  checkUniqueNames(rows("diets"), "dietId", "diet_id");
  checkUniqueNames(rows("batches"), "batchId", "batch_id");

  const standIns = settleIds(drafts, settings);
  for (const draft of rows("feeds")) checkAnimalOrGroup(draft, "exactly one");
  // A housing row with both says that the animal belongs to the group.
  for (const draft of rows("housing")) checkAnimalOrGroup(draft, "at least one");
  for (const draft of rows("feeds")) noteRefusal(draft);
  const tared = rows("weighings").filter((d) => typeof d.get("tareG") === "number").length;
  // Where tares are the rule a blank one was forgotten; where they are not, it is asked once.
  const tareIsRule = !settings.blankTareIsZero && tared > rows("weighings").length / 2;
  for (const draft of rows("weighings")) noteTare(draft, tareIsRule);
  for (const draft of rows("decisions")) checkDecision(draft);
  // An order is never set aside for its end; series/orders asks about it on the pages.
  for (const draft of rows("plans")) noteEnd(draft);
  for (const draft of rows("housing")) checkSpan(draft, "from", "to");
  for (const draft of rows("events")) checkSpan(draft, "at", "to");

  const diets = namesOf(rows("diets"), "dietId");
  for (const table of ["feeds", "batches", "ingredients", "plans"] as const)
    for (const draft of rows(table)) noteUnknown(draft, "dietId", "diet_id", diets);
  const batches = namesOf(rows("batches"), "batchId");
  for (const table of ["feeds", "ingredients"] as const)
    for (const draft of rows(table)) noteUnknown(draft, "batchId", "batch_id", batches);

  checkRepeats(drafts);
  return standIns;
}

interface Names {
  readonly good: ReadonlySet<string>;
  readonly closest: (written: string) => string | null;
}

function namesOf(drafts: Rows<DraftRow>, key: string): Names {
  const good = new Set(drafts.filter((d) => d.fault === null).map((d) => String(d.get(key))));
  return { good, closest: nameGuesser(good) };
}

function checkUniqueNames(drafts: Rows<DraftRow>, key: string, column: string): void {
  const first = new Map<string, DraftRow>();
  for (const draft of drafts) {
    const name = draft.get(key);
    if (draft.fault !== null || typeof name !== "string") continue;
    const earlier = first.get(name);
    if (earlier === undefined) first.set(name, draft);
    else
      setAside(draft, column, "records-name-twice", "suggest-another-name", {
        name,
        line: earlier.line,
        file: earlier.file,
      });
  }
}

function checkAnimalOrGroup(draft: DraftRow, needed: "exactly one" | "at least one"): void {
  const animal = draft.get("animalId") ?? null;
  const group = draft.get("groupId") ?? null;
  if ((animal === null) !== (group === null)) return;
  const both = animal !== null;
  if (both && needed === "at least one") return;
  setAside(
    draft,
    both ? "group_id" : "animal_id",
    both ? "records-animal-and-group" : "records-no-animal-no-group",
    "suggest-animal-or-group",
    {},
  );
}

/** Something was fed at that time: the row stays, and what was eaten is a range until decided. */
function noteRefusal(draft: DraftRow): void {
  const offered = draft.get("offeredG");
  const refused = draft.get("refusedG");
  if (typeof offered === "number" && typeof refused === "number" && refused > offered)
    draft.note(
      notice("records-refused-more", "problem", { offered, refused }, placeOf(draft, "refused_g")),
    );
}

/** A decision names its row by one thing: a reading, an amount offered, or an observation. */
function checkDecision(draft: DraftRow): void {
  const about = ["massG", "offeredG", "kind"].filter((key) => (draft.get(key) ?? null) !== null);
  if (about.length !== 1)
    setAside(draft, "mass_g", "records-decision-about", "suggest-decision-about", {
      n: about.length,
    });
  // Read as it is, it would make a doubted value a sure one.
  const anew = correctedKeys.some((key) => (draft.get(key) ?? null) !== null);
  if (draft.fault === null && draft.get("decision") === "correct" && !anew)
    setAside(draft, "decision", "records-correction-empty", "suggest-correction", {});
}

const correctedKeys = [
  "newAnimalId",
  "newAt",
  "newMassG",
  "newTareG",
  "newOfferedG",
  "newRefusedG",
  "newValue",
  "newUnit",
];

function noteTare(draft: DraftRow, tareIsRule: boolean): void {
  const mass = draft.get("massG");
  const tare = draft.get("tareG");
  if (typeof mass === "number" && typeof tare === "number" && tare >= mass)
    draft.note(
      notice("records-tare-not-below", "problem", { mass, tare }, placeOf(draft, "tare_g")),
    );
  const said = draft.unread?.["tareG"];
  const lost = draft.notices.some((n) => n.place?.column === "tare_g");
  if (typeof mass === "number" && tare === null && said !== undefined && !lost)
    draft.note(
      notice("records-tare-unknown", "caution", { written: said }, placeOf(draft, "tare_g")),
    );
  else if (typeof mass === "number" && tare === null && said === undefined && tareIsRule)
    draft.note(notice("records-tare-left-blank", "caution", {}, placeOf(draft, "tare_g")));
}

function checkSpan(draft: DraftRow, begin: string, end: string): void {
  const from = draft.get(begin);
  const to = draft.get(end);
  // The beginning stands; an end before it cannot be right and is lost alone.
  if (typeof from === "number" && typeof to === "number" && to < from)
    loseCell(draft, "to", notice("records-span-backwards", "problem", { begin: from, end: to }));
}

function noteEnd(draft: DraftRow): void {
  const from = draft.get("from");
  const to = (draft.get("to") as { readonly value: unknown } | null | undefined)?.value;
  if (typeof from === "number" && typeof to === "number" && to <= from)
    draft.note(
      notice("records-span-backwards", "problem", { begin: from, end: to }, placeOf(draft, "to")),
    );
}

function noteUnknown(draft: DraftRow, key: string, column: string, names: Names): void {
  const name = draft.get(key);
  if (draft.fault !== null || typeof name !== "string" || names.good.has(name)) return;
  if (draft.table === "plans" && saysNilByMouth(name)) return;
  const close = names.closest(name);
  draft.note(
    notice("records-unknown-reference", "caution", { name, column, close }, placeOf(draft, column)),
  );
}
