import { type Notice, notice } from "../core/notice.js";
import { tableColumns } from "./columns.js";
import type { Drafts } from "./draft-row.js";
import type { TableName } from "./study.js";

/** Which key of which tables names a row of which table. */
const references: readonly (readonly [TableName, string, readonly string[]])[] = [
  ["animals", "animalId", ["animalId", "newAnimalId"]],
  ["diets", "dietId", ["dietId"]],
  ["batches", "batchId", ["batchId"]],
];

/**
 * Puts the known id where a row names an animal by a name that study.json says
 * is its own (`also_called`), and where an id stands in other capitals or
 * blanks, if that leaves one. Names that fit two stay as they are.
 */
export function settleNames(
  drafts: Drafts,
  alsoCalled: ReadonlyMap<string, string>,
  notices: Notice[],
): void {
  for (const [home, homeKey, keys] of references) {
    const known = new Map<string, string | null>();
    const exact = new Set<string>();
    for (const draft of drafts.get(home) ?? []) {
      const id = draft.get(homeKey);
      if (typeof id !== "string" || exact.has(id)) continue;
      exact.add(id);
      known.set(folded(id), known.has(folded(id)) ? null : id);
    }
    const examples = new Map<string, string>();
    let count = 0;
    for (const [table, rows] of drafts) {
      if (table === home) continue;
      const named = keys.filter((key) => tableColumns[table].some((c) => c.key === key));
      for (const draft of rows)
        for (const key of named) {
          const name = draft.get(key);
          if (typeof name !== "string" || exact.has(name)) continue;
          const called = home === "animals" ? alsoCalled.get(name.toLowerCase()) : undefined;
          if (called !== undefined) {
            draft.set(key, called);
            continue;
          }
          const id = known.get(folded(name));
          if (id === undefined || id === null) continue;
          draft.set(key, id);
          examples.set(name, id);
          count++;
        }
    }
    if (count > 0)
      notices.push(
        notice("records-names-in-another-case", "info", {
          count,
          names: [...examples].slice(0, 6).map(([name, id]) => `${name} as ${id}`),
        }),
      );
  }
}

/** A name without capitals and blanks. */
const folded = (name: string) => name.toLowerCase().replace(/\s+/g, "");
