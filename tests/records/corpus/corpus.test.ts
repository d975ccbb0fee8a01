import { describe, expect, it } from "vitest";
import { readFolder } from "../../../src/records/files/read-study.js";
import type { StudyInput } from "../../../src/records/parse-study.js";
import { corpus } from "./all-sets.js";
import { notYet } from "./not-yet.js";
import { inFolder, inputsOf } from "./pages-of.js";
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

  // Sets are read without a folder: it must be what a folder would give.
  it.each([
    sets.find((s) => Object.keys(s.files).some((file) => file.endsWith(".xlsx")))!,
    sets.find((s) => s.accept === true)!,
    sets[0]!,
  ])('hands on the files of "$name" as a folder would', async ({ files }) => {
    const plain = (inputs: readonly StudyInput[]) =>
      inputs.map(({ bytes, ...rest }) => ({ ...rest, bytes: Buffer.from(bytes).toString("hex") }));
    expect(plain(await inputsOf(files))).toEqual(plain(await inFolder(files, readFolder)));
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
