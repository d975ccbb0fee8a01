/** A diet as its table has it. */
export interface NamedDiet {
  readonly dietId: string;
  readonly name: string | null;
}

/**
 * Puts the names of diets where their ids stand. An id that is a word ("clam")
 * reads by itself and stays as people wrote it; one that is a code ("formula-1")
 * gives way to the name. Null where no id is a code.
 *
 * @example dietNamer([{ dietId: "formula-1", name: "first formula" }])?.("formula-1: 46 g") // "first formula: 46 g"
 */
export function dietNamer(diets: readonly NamedDiet[]): ((text: string) => string) | null {
  const names = new Map(
    diets.flatMap(({ dietId, name }) =>
      name === null || /^[\p{L} ]+$/u.test(dietId) ? [] : [[dietId, name]],
    ),
  );
  if (names.size === 0) return null;
  // The longest first: an id may begin like another.
  const ids = [...names.keys()].sort((a, b) => b.length - a.length).map(literally);
  const diet = new RegExp(`(?<![\\p{L}\\p{N}_-])(?:${ids.join("|")})(?![\\p{L}\\p{N}_-])`, "gu");
  return (text) => text.replace(diet, (id) => names.get(id) ?? id);
}

/**
 * The parts of a page, however deep they lie in it, with diets under their names.
 * What stands between quotation marks repeats a file and is left alone.
 */
export function withNamedDiets<Page>(page: Page, diets: readonly NamedDiet[]): Page {
  const named = dietNamer(diets);
  if (named === null) return page;
  const outside = (text: string) =>
    text
      .split(/(“[^”]*”|"[^"]*")/)
      .map((part, at) => (at % 2 === 1 ? part : named(part)))
      .join("");
  const walk = (part: unknown): unknown => {
    if (typeof part === "string") return outside(part);
    if (Array.isArray(part)) return part.map(walk);
    if (typeof part !== "object" || part === null) return part;
    return Object.fromEntries(Object.entries(part).map(([key, value]) => [key, walk(value)]));
  };
  return walk(page) as Page;
}

const literally = (text: string) => text.replace(/[\\^$.*+?()[\]{}|]/g, "\\$&");
