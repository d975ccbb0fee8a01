import { expect, it } from "vitest";
import { eatenInFast } from "../../src/report/day/eaten-in-fast.js";

it("little eaten of an order is explained in the fast after weaning, and nowhere else", () => {
  const few = { most: 85, planned: 1659 };
  for (const how of ["in short", "sentence"] as const) {
    const [words, ...more] = eatenInFast("post-weaning fast", few, how);
    expect(more).toEqual([]);
    expect(words).toMatch(/in the fast/i);
    // What is explained is not called well.
    expect(words).not.toMatch(/fine|well|normal|healthy|expected/);
    for (const phase of ["milk", "mixed", "solids", "arrival", null])
      expect(eatenInFast(phase, few, how)).toEqual([]);
    expect(eatenInFast("post-weaning fast", { most: 1500, planned: 1659 }, how)).toEqual([]);
  }
});
