import { notice } from "../core/notice.js";
import { meaningOfName } from "./cell-words.js";
import { nameGuesser } from "./closest-name.js";
import { type DraftRow, type Drafts, written } from "./draft-row.js";
import type { Rows } from "./rows.js";
import { placeOf, setAside } from "./set-aside.js";
import type { AnimalRow, StudySettings, TableName } from "./study.js";

/** Tables in which whoever is named must be found again on the pages of the day. */
const ofAnimals = ["weighings", "feeds", "observations", "plans", "housing"] as const;
const aboutAnimals: readonly TableName[] = [
  ...ofAnimals,
  "decisions",
  "acknowledgements",
  "answers",
];

/** A lone misspelling is told apart from an animal that somebody forgot to enter by its rows. */
const MISSPELT_AT_MOST = 2;

/** Words by which people head a line of totals. */
const totals = /^(?:sub-?|grand )?(?:totals?|sum|mean|average|avg|median)[.:]?$/i;

/** Words for more than one animal. */
const everybody = /^(?:both|all|all of them|all animals|everyone|everybody|each|the group|group)$/i;

/**
 * Finds the animal of every row. A row for two animals and a misspelt id are set
 * aside with what may be meant. Whoever has records and no usable row in the
 * animals table stands in with what is known: the rows are used, and it is asked
 * about. Returns these animals.
 */
export function settleIds(drafts: Drafts, settings: StudySettings): AnimalRow[] {
  const animals = drafts.get("animals") ?? [];
  const idOf = (draft: DraftRow) => draft.get("animalId") as string;
  const good = new Set(animals.filter((a) => a.fault === null).map(idOf));
  const spoilt = new Map(
    animals
      .filter((a) => a.fault !== null)
      .map((a) => [idOfSpoilt(a), a] as const)
      .filter((entry): entry is [string, DraftRow] => entry[0] !== null),
  );
  const unknown = new Map<string, DraftRow[]>();
  for (const table of ofAnimals)
    for (const draft of drafts.get(table) ?? []) {
      const id = draft.get("animalId");
      if (typeof id !== "string" || good.has(id)) continue;
      const rows = unknown.get(id);
      if (rows === undefined) unknown.set(id, [draft]);
      else rows.push(draft);
    }
  const called = callNames(animals);
  const nearId = nameGuesser(good);
  const nearName = nameGuesser(new Set(called.keys()));
  const closest = (word: string) => nearId(word) ?? called.get(nearName(word) ?? "") ?? null;
  const standIns = new Map<string, AnimalRow>();
  for (const [id, spoiltRow] of spoilt)
    if (!good.has(id)) standIns.set(id, standIn(id, spoiltRow, unknown.get(id) ?? [], settings));
  for (const [id, rows] of unknown) {
    const near = called.get(id.toLowerCase()) ?? closest(id);
    const several = animalsNamed(id, good, called);
    if (standIns.has(id) || rows.every((row) => row.fault !== null)) continue;
    if (several.length > 0 || totals.test(id)) continue;
    if (near !== null && (alike(near, id, called) || rows.length <= MISSPELT_AT_MOST)) continue;
    standIns.set(id, standIn(id, null, rows, settings));
  }
  for (const table of aboutAnimals)
    for (const draft of drafts.get(table) ?? []) {
      const id = draft.get("animalId");
      if (typeof id !== "string" || good.has(id)) continue;
      if (standIns.has(id)) {
        const why = standIns.get(id)!.withoutRow!;
        if (draft.fault === null)
          draft.note({ ...why, level: "caution", place: placeOf(draft, "animal_id") });
        continue;
      }
      const several = animalsNamed(id, good, called);
      const close = called.get(id.toLowerCase()) ?? closest(id);
      if (several.length > 0)
        setAside(draft, "animal_id", "records-several-animals", "suggest-row-each", {
          written: id,
          animals: several,
        });
      else
        setAside(
          draft,
          "animal_id",
          "records-unknown-animal",
          close === null ? "suggest-add-animal" : "suggest-close-name",
          { animal: id, close },
        );
    }
  return [...standIns.values()];
}

/** The id of a row that could not be read whole: the cell in its place, or what stands first. */
function idOfSpoilt(draft: DraftRow): string | null {
  const read = draft.get("animalId");
  if (typeof read === "string") return read;
  const cell = written(draft, "animal_id") ?? draft.raw[0] ?? "";
  const id = (cell.split(/[,;\t|]/)[0] ?? "").replace(/^"|"$/g, "").trim();
  return id === "" || id.length > 40 || meaningOfName(id) !== null ? null : id;
}

/** Ids by what else the animal is called: its name where one animal alone has it, its id in another case. */
function callNames(animals: Rows<DraftRow>): Map<string, string> {
  const found = new Map<string, string | null>();
  for (const animal of animals) {
    if (animal.fault !== null) continue;
    const id = animal.get("animalId") as string;
    for (const word of [id, animal.get("name")])
      if (typeof word === "string") {
        const key = word.toLowerCase();
        found.set(key, found.has(key) && found.get(key) !== id ? null : id);
      }
  }
  return new Map([...found].filter((entry): entry is [string, string] => entry[1] !== null));
}

/** The same on paper: then it is a spelling of the known one, however many rows there are. */
function alike(near: string, id: string, called: ReadonlyMap<string, string>): boolean {
  const plain = (text: string) =>
    text
      .toLowerCase()
      .replace(/[\s_.-]/g, "")
      .replace(/[li|]/g, "1")
      .replaceAll("o", "0");
  return called.get(id.toLowerCase()) === near || plain(near) === plain(id);
}

/**
 * The animals that a cell for several names: "O24-02, O24-05", "O24-02/05",
 * "O24-02 and O24-05", "both". Empty where the cell names fewer than two parts.
 */
export function animalsNamed(
  cell: string,
  known: ReadonlySet<string>,
  called: ReadonlyMap<string, string> = new Map(),
): string[] {
  if (everybody.test(cell)) return [...known];
  const parts = cell
    .split(/\s*(?:[,;&+/|\n]|\band\b|\bund\b|\bet\b)\s*/i)
    .filter((part) => part !== "");
  // "P1 P2": only where each word is an animal, since a name may be of two words.
  const words = cell.split(/\s+/);
  const each = words.map((word) => (known.has(word) ? word : called.get(word.toLowerCase())));
  if (parts.length < 2 && words.length > 1 && each.every((id) => id !== undefined))
    return [...new Set(each.filter((id) => id !== undefined))];
  if (parts.length < 2) return [];
  let last = "";
  const found = parts.flatMap((part) => {
    const whole = known.has(part)
      ? part
      : called.has(part.toLowerCase())
        ? called.get(part.toLowerCase())!
        : part.length < last.length
          ? `${last.slice(0, last.length - part.length)}${part}`
          : part;
    if (!known.has(whole)) return [];
    last = whole;
    return [whole];
  });
  return [...new Set(found)];
}

function standIn(
  id: string,
  spoilt: DraftRow | null,
  rows: readonly DraftRow[],
  settings: StudySettings,
): AnimalRow {
  const of = (key: string) => spoilt?.get(key);
  const text = (key: string) => (of(key) as string | null | undefined) ?? null;
  const first = spoilt ?? rows[0]!;
  const origin = { file: first.file, line: first.line };
  const place = { file: first.file, table: first.table, line: first.line, animal: id };
  return {
    animalId: id,
    name: text("name"),
    species:
      text("species") ?? (settings.species.length === 1 ? settings.species[0]! : "not known"),
    sex: (text("sex") ?? "unknown") as AnimalRow["sex"],
    birthDateEarliest: text("birthDateEarliest"),
    birthDateLatest: text("birthDateLatest"),
    birthDateBasis: (text("birthDateBasis") ?? "unknown") as AnimalRow["birthDateBasis"],
    admittedAt: (of("admittedAt") as number | null | undefined) ?? null,
    season: text("season"),
    outcome: text("outcome") as AnimalRow["outcome"],
    outcomeReason: text("outcomeReason"),
    outcomeDate: text("outcomeDate"),
    notes: text("notes"),
    origin,
    withoutRow:
      spoilt === null
        ? notice("records-animal-without-row", "problem", { animal: id }, place)
        : notice(
            "records-animal-row-unusable",
            "problem",
            { animal: id, row: spoilt.raw.join(", "), line: spoilt.line, file: spoilt.file },
            place,
          ),
  };
}
