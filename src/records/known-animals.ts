/** Animals of a study as their table names them, for proposals about what else they are called. */
export interface KnownAnimals {
  readonly ids: ReadonlySet<string>;
  /**
   * The animal a text means: its id, in whatever capitals; its name; the
   * beginning of one name; an id without its zeros and marks. Null where none
   * or several fit.
   */
  meant(text: string): { readonly id: string; readonly by: "id" | "name" | "short name" } | null;
}

export function knownAnimals(
  rows: readonly { readonly id: string; readonly name: string }[],
): KnownAnimals {
  const ids = new Set(rows.map((row) => row.id));
  const only = (fits: (row: { readonly id: string; readonly name: string }) => boolean) => {
    const found = new Set(rows.filter(fits).map((row) => row.id));
    return found.size === 1 ? [...found][0]! : null;
  };
  return {
    ids,
    meant(text) {
      const asked = fold(text);
      if (asked === "") return null;
      const byId = ids.has(text.trim()) ? text.trim() : only((row) => fold(row.id) === asked);
      if (byId !== null) return { id: byId, by: "id" };
      const byName = only((row) => fold(row.name) === asked);
      if (byName !== null) return { id: byName, by: "name" };
      const byBoth = only(
        (row) =>
          row.name !== "" &&
          [`${row.id}${row.name}`, `${row.name}${row.id}`].some((both) => fold(both) === asked),
      );
      if (byBoth !== null) return { id: byBoth, by: "name" };
      const bare = only((row) => plainId(row.id) === plainId(text));
      if (bare !== null && plainId(text) !== "") return { id: bare, by: "short name" };
      const short = asked.length >= 3 && /^\p{L}+$/u.test(asked);
      const byStart = short ? only((row) => fold(row.name).startsWith(asked)) : null;
      return byStart === null ? null : { id: byStart, by: "short name" };
    },
  };
}

const fold = (text: string) => text.toLowerCase().replace(/[\s()[\]"'.,:;/_-]+/g, "");
const plainId = (text: string) => fold(text).replace(/(^|\D)0+(?=\d)/g, "$1");
