import { describe, expect, it } from "vitest";
import { groupCoverage } from "../bench/change-day-held.js";

/** The short sibling of the bench `change-day-coverage`; same seeds, fewer groups. */
describe("the 90 % interval of the day of a slowed gain", () => {
  it("holds the true day at least about as often as it says, independent and hard weighings", () => {
    for (const world of ["plain", "everything"]) {
      for (const row of groupCoverage(world, 11, 40, "anywhere")) {
        // 0.9 less three Monte Carlo standard errors of the number looked at.
        const slack = 3 * Math.sqrt((0.9 * 0.1) / row.looked);
        expect(row.held, `${row.world}, ${row.when}`).toBeGreaterThan(0.9 - slack);
        expect(row.looked, row.when).toBeGreaterThan(16);
      }
    }
  });
});
