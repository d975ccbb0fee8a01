import type { Chart } from "../../charts/chart.js";

/** An animal as its table has it. */
export interface NamedAnimal {
  readonly animalId: string;
  readonly name: string | null;
}

/** Keys under which a part of a page says no sentence of its own. */
const notSaid: ReadonlySet<string> = new Set([
  "where",
  "href",
  "id",
  "animalId",
  "kind",
  "code",
  "tidy",
]);

/**
 * The parts of a page, however deep they lie in it, with animals under their names
 * where a sentence says an id. An id that reads by itself ("Mica", "7", "A2") stays:
 * only codes of four signs and more that hold a letter and a digit give way. What
 * stands between quotation marks or in a column that repeats a file is left alone,
 * and so is an id in brackets after its own name.
 *
 * @example withNamedAnimals(list(["O24-01 was not weighed."]), [{ animalId: "O24-01", name: "Lozzengrit" }]).items[0] // "Lozzengrit was not weighed."
 */
export function withNamedAnimals<Page>(page: Page, animals: readonly NamedAnimal[]): Page {
  const names = new Map(
    animals.flatMap(({ animalId, name }) =>
      name !== null && name !== animalId && isCode(animalId) ? [[animalId, name] as const] : [],
    ),
  );
  if (names.size === 0) return page;
  // The longest first: an id may begin like another.
  const ids = [...names.keys()].sort((a, b) => b.length - a.length).map(literally);
  const id = new RegExp(`(?<![\\p{L}\\p{N}_-])(?:${ids.join("|")})(?![\\p{L}\\p{N}_-])`, "gu");
  const named = (text: string) =>
    text.replace(id, (found, at: number) => {
      const name = names.get(found)!;
      // A cell that is an id alone goes into files too, where animals are told apart by it.
      if (text === found) return `${name} (${found})`;
      return text.slice(0, at).endsWith(`${name} (`) ? found : name;
    });
  const outside = (text: string) =>
    text
      .split(/(“[^”]*”|"[^"]*")/)
      .map((part, at) => (at % 2 === 1 ? part : named(part)))
      .join("");
  const walk = (part: unknown): unknown => {
    if (typeof part === "string") return outside(part);
    if (Array.isArray(part)) return part.map(walk);
    if (typeof part !== "object" || part === null) return part;
    if (isChart(part)) return part;
    const written = writtenColumns(part);
    return Object.fromEntries(
      Object.entries(part).map(([key, value]) =>
        notSaid.has(key)
          ? [key, value]
          : key === "rows" && written.size > 0
            ? [
                key,
                (value as readonly (readonly unknown[])[]).map((row) =>
                  row.map((cell, at) => (written.has(at) ? cell : walk(cell))),
                ),
              ]
            : [key, walk(value)],
      ),
    );
  };
  return walk(page) as Page;
}

/** An id that was told apart by a year ("P1 (2024)") is itself what a sentence is about. */
const isCode = (id: string) =>
  id.length > 3 && /^[\p{L}\p{N}_.-]+$/u.test(id) && /\p{L}/u.test(id) && /\d/.test(id);

/** A picture names its animals where it is made: its rows lead to pages by their ids. */
const isChart = (part: object): part is Chart => "kind" in part && part.kind === "chart";

/** The columns of a table that repeat a file. */
function writtenColumns(part: object): ReadonlySet<number> {
  if (!("columns" in part) || !Array.isArray(part.columns)) return new Set();
  return new Set(part.columns.flatMap((column, at) => (column?.asWritten === true ? [at] : [])));
}

const literally = (text: string) => text.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&");
