import { describe, expect, it } from "vitest";
import { corpus } from "./all-sets.js";
import { notYet } from "./not-yet.js";
import { failuresOf } from "./read-set.js";

const sets = Object.values(corpus).flat();

/**
 * Small invented record sets with the values that a careful person reads, written
 * by hand before they were first read by the library.
 */
describe("the corpus of record sets", () => {
  it("holds at least 120 sets, each under a name of its own", () => {
    expect(sets.length).toBeGreaterThanOrEqual(120);
    expect(new Set(sets.map((s) => s.name)).size).toBe(sets.length);
  });

  it(`lists ${Object.keys(notYet).length} sets as not yet read, and only sets that exist`, () => {
    const names = new Set(sets.map((s) => s.name));
    expect(Object.keys(notYet).filter((name) => !names.has(name))).toEqual([]);
  });
});

for (const [about, group] of Object.entries(corpus)) {
  describe(`sets of ${about}`, () => {
    for (const set of group) {
      const reason = notYet[set.name];
      if (reason === undefined)
        it(`reads "${set.name}"`, async () => expect(await failuresOf(set)).toEqual([]));
      else
        it(`does not yet read "${set.name}"`, async () =>
          expect(
            (await failuresOf(set)).length,
            `mended: strike it off not-yet.ts`,
          ).toBeGreaterThan(0));
    }
  });
}
