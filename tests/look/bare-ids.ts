interface Animal {
  readonly animalId: string;
  readonly name: string | null;
}

/**
 * Where a page says the id of an animal that has a name, other than in brackets after
 * it: each with what stands around it. Quotations of a file are not read.
 */
export function bareIds(words: readonly string[], animals: readonly Animal[]): string[] {
  const named = animals.filter((a) => a.name !== null && a.name !== a.animalId);
  return [
    ...new Set(
      words.flatMap((text) => {
        const read = text.replace(/“[^”]*”|"[^"]*"/g, "“”");
        return named.flatMap(({ animalId, name }) =>
          [...read.matchAll(new RegExp(`(?<![\\p{L}\\p{N}-])${animalId}(?![\\p{L}\\p{N}-])`, "gu"))]
            // The line that says of whom a page is has the name before it.
            .filter(({ index }) => !(index === 0 && read.startsWith(`${animalId}, `)))
            .filter(({ index }) => !read.slice(0, index).endsWith(`${name} (`))
            .map(
              ({ index }) => `${animalId}: …${read.slice(Math.max(0, index - 60), index + 60)}…`,
            ),
        );
      }),
    ),
  ];
}
