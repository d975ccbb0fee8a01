import { describe, expect, it } from "vitest";
import { rateOfDiffers, rateOfSeasonClaims } from "./simulated-seasons.js";

/**
 * Short siblings of the bench `seasons-calibration` (20,000 runs). Seeds were
 * written down before the first run. Bounds are 3.5 binomial standard errors
 * about 5 %.
 */
describe("the comparison as used, two seasons of six animals", () => {
  const plan = { animals: 6, seasons: 2, animalSd: 9, seasonSd: 0, difference: 0 };

  it("says 'differs' about one time in twenty when nothing differs", () => {
    const rate = rateOfDiffers(plan, 1000, 20260307);
    expect(Math.abs(rate.differs - 0.05)).toBeLessThan(3.5 * Math.sqrt((0.05 * 0.95) / 1000));
    expect(rate.covered).toBeGreaterThan(0.925);
  });

  it("finds a difference of twice the animals' spread more often than not", () => {
    expect(rateOfDiffers({ ...plan, difference: 18 }, 200, 20260308).differs).toBeGreaterThan(0.5);
  });

  it("answers for animals only: a spread between seasons is called a difference far too often", () => {
    expect(rateOfDiffers({ ...plan, seasonSd: 9 }, 200, 20260309).differs).toBeGreaterThan(0.15);
  });

  it("holds its word when the season is the unit, whatever the spread between seasons", () => {
    const rate = rateOfSeasonClaims({ ...plan, seasons: 4, seasonSd: 9 }, 400, 20260310);
    // At most one in twenty: the spread is never taken smaller than the errors, which is cautious.
    expect(rate.differs).toBeLessThan(0.05 + 3.5 * Math.sqrt((0.05 * 0.95) / 400));
    expect(rate.differs).toBeGreaterThan(0);
  });
});
