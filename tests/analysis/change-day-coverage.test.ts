import { describe, expect, it } from "vitest";
import { benchResult } from "../../docs/build/validation/bench-results.js";
import { changeDaysHeld as shipped } from "../../src/flags/budget/change-days-held.js";
import { type ChangeDayCoverage, changeDaysHeld, groupCoverage } from "../bench/change-day-held.js";

/** The short sibling of the bench `change-day-coverage`; same seeds, fewer groups. */
describe("the 90 % interval of the day of a slowed gain", () => {
  it.each(["plain", "everything"])(
    "holds the true day at least about as often as it says: %s weighings",
    (world) => {
      for (const row of groupCoverage(world, 11, 40, "anywhere")) {
        // 0.9 less three Monte Carlo standard errors of the number looked at.
        const slack = 3 * Math.sqrt((0.9 * 0.1) / row.looked);
        expect(row.held, `${row.world}, ${row.when}`).toBeGreaterThan(0.9 - slack);
        expect(row.looked, row.when).toBeGreaterThan(16);
      }
    },
  );

  it("is said on the page to hold as often as the committed result has it", () => {
    const { rows } = benchResult("change-day-coverage").data as { rows: ChangeDayCoverage[] };
    expect(shipped).toEqual(changeDaysHeld(rows));
    // By hand, of two rows: 9 of 10 and 19 of 30 are 28 of 40; the lowest rounded down.
    const two = [
      { looked: 10, held: 0.9 },
      { looked: 30, held: 19 / 30 },
    ];
    expect(changeDaysHeld(two)).toEqual({ looks: 40, held: 70, lowest: 63 });
  });
});
