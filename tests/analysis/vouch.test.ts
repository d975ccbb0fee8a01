import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { isVouched, vouchFor } from "../../src/analysis/vouch.js";

describe("what can be vouched for", () => {
  it.each([
    "O24-02",
    "otter-formula-2",
    "B250510-1",
    "nursery, pool 2",
    "2025",
    "platform-1",
    "SC2",
    "kh_03",
    "B 12",
    "HKM-4",
  ])("names nobody: %s", (text) => expect(isVouched(text)).toBe(true));
  // Words of our own for persons, alone, hidden in a code, with a number that may be a telephone's.
  it.each([
    "Zorvane",
    "Zorvane-1",
    "bench of Quillo",
    "0151 2345678 9",
    "formula <Tamsin>",
    "MQ",
    "Ann 2025",
    "batch 3, Tom",
    "Bo-2",
    "ZOE-1",
    "leo3",
    "kq scale 2",
  ])("may name somebody: %s", (text) => expect(isVouched(text)).toBe(false));
});

describe("an id without people", () => {
  it("is the same for the same id, and never that of another", () => {
    const ids = fc.array(
      fc.oneof(
        fc.constantFrom("animal 1", "animal 2", "Zorvane", "Quillo", "A1", "animal 10"),
        fc.string({ maxLength: 12 }),
      ),
      { maxLength: 40 },
    );
    fc.assert(
      fc.property(ids, (written) => {
        const vouch = vouchFor();
        const shown = new Map(written.map((id) => [id, vouch.id("animal", id)]));
        expect(new Set(shown.values()).size).toBe(shown.size);
        for (const [id, name] of shown) expect(vouch.id("animal", id)).toBe(name);
      }),
      { seed: 20_261_129, numRuns: 500 },
    );
  });
  it("keeps an animal whose id is like one that stands in for another", () => {
    const vouch = vouchFor();
    expect(vouch.id("animal", "Zorvane")).toBe("animal 1");
    expect(vouch.id("animal", "animal 1")).toBe("animal 2");
    expect(vouch.id("animal", "Quillo")).toBe("animal 3");
  });
});
