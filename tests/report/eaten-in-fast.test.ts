import { expect, it } from "vitest";
import { eatenInFast } from "../../src/report/day/eaten-in-fast.js";

it("little eaten of an order is explained in the fast after weaning, and nowhere else", () => {
  const few = { most: 85, planned: 1659 };
  expect(eatenInFast("post-weaning fast", few)).toHaveLength(1);
  expect(eatenInFast("post-weaning fast", few)[0]).toMatch(/fast after weaning/);
  // What is explained is not called well.
  expect(eatenInFast("post-weaning fast", few)[0]).not.toMatch(/fine|well|normal|healthy|expected/);
  for (const phase of ["milk", "mixed", "solids", "arrival", null])
    expect(eatenInFast(phase, few)).toEqual([]);
  expect(eatenInFast("post-weaning fast", { most: 1500, planned: 1659 })).toEqual([]);
});
