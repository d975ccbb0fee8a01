import { type Draft, type Habit, rewrite } from "../draft.js";
import type { Cells } from "../true-study.js";

/** The id in every table but the animals' own. */
function ids(draft: Draft, change: (id: string) => string): void {
  for (const name of draft.tables.keys())
    if (name !== "animals") rewrite(draft, name, "animal_id", change);
}

/** The id only where it differs from the row above. */
function asAbove(draft: Draft, mark: string): void {
  for (const name of ["weighings", "feeds"]) {
    const table = draft.tables.get(name);
    if (table === undefined) continue;
    const key = (cells: Cells) => cells["animal_id"]!;
    table.rows.sort((a, b) =>
      key(a.cells) < key(b.cells) ? -1 : key(a.cells) > key(b.cells) ? 1 : 0,
    );
    let last = "";
    for (const { cells } of table.rows) {
      const id = key(cells);
      if (id === last) cells["animal_id"] = mark;
      last = id;
    }
  }
}

const idHabit = (name: string, write: Habit["write"], also: readonly string[] = []): Habit => ({
  name: `ids: ${name}`,
  reads: "without asking",
  settles: ["id", ...also],
  write,
});

export const nameHabits: readonly Habit[] = [
  idHabit("small letters", (draft) => ids(draft, (id) => id.toLowerCase())),
  idHabit("blanks around them", (draft, random) =>
    ids(draft, (id) => (random.uniform() < 0.3 ? `${id} ` : id)),
  ),
  idHabit("call names in their place", (draft) => {
    const names = new Map(
      draft.truth.tables["animals"]!.rows.map((a) => [a["animal_id"]!, a["name"]!]),
    );
    ids(draft, (id) => names.get(id) ?? id);
  }),
  idHabit("blank means as above", (draft) => asAbove(draft, ""), ["order"]),
  idHabit("ditto marks", (draft) => asAbove(draft, '"'), ["order"]),
  {
    name: "birth: about a day, with ca.",
    reads: "without asking",
    settles: ["birth"],
    fits: (truth) =>
      truth.tables["animals"]!.rows.every(
        (a) =>
          a["birth_date_earliest"] !== "" && a["birth_date_earliest"] === a["birth_date_latest"],
      ),
    write: (draft) => {
      rewrite(draft, "animals", "birth_date_earliest", (date) => `ca. ${date}`);
      rewrite(draft, "animals", "birth_date_latest", () => "");
    },
  },
];
