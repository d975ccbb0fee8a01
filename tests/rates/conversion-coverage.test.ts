import { describe, expect, it } from "vitest";
import { type ConversionScenario, conversionCoverage } from "./simulated-conversion.js";

/** Small siblings of the bench "conversion-coverage"; seeds fixed before the first run. */
const base: ConversionScenario = {
  name: "14 d",
  weighings: 15,
  gainGPerD: 35,
  massSd: 25,
  feedGPerD: 600,
  feedsPerD: 8,
};
/** Four weeks of the animal itself and of nine others are known beside the window. */
const known = { earlier: 2, others: 18 };

describe("coverage of the interval of a feed conversion", () => {
  // 6000 windows at 95 %: one standard error is 0.28 %.
  it.each([base, { ...base, weighings: 8 }, { ...base, tails: "heavy" as const }])(
    "Fieller holds 93 to 97 % where errors are independent and taken so: %j",
    (s) => {
      const c = conversionCoverage(s, 6000, 20260601, { errors: "independent" });
      expect(c.covered).toBeGreaterThan(0.93);
      expect(c.covered).toBeLessThan(0.97);
    },
  );

  // 1500 windows: one standard error is 0.56 %.
  it("so does the bootstrap-t", () => {
    const c = conversionCoverage(base, 1500, 20260602, { errors: "independent", draws: 399 });
    expect(c.covered).toBeGreaterThan(0.93);
    expect(c.covered).toBeLessThan(0.97);
  });

  it("holds 93 to 97 % by default too where a cohort's weighings say that errors are independent", () => {
    const c = conversionCoverage({ ...base, ...known }, 3000, 20260604);
    expect(c.covered).toBeGreaterThan(0.93);
    expect(c.covered).toBeLessThan(0.97);
  });

  it.each([14, 28])(
    "holds 92 %% and more of %d days of gut fill that lasts, by default",
    (days) => {
      const gut = { ...base, ...known, weighings: days + 1, correlation: 0.5 };
      expect(conversionCoverage(gut, 3000, 20260605).covered).toBeGreaterThan(0.92);
      // Taken as independent it falls short: what the default is for.
      expect(
        conversionCoverage(gut, 3000, 20260605, { errors: "independent" }).covered,
      ).toBeLessThan(0.85);
    },
  );

  it("with nothing known beside the window errs to the wide side", () => {
    const c = conversionCoverage(base, 3000, 20260606);
    expect(c.covered).toBeGreaterThan(0.95);
  });

  it("and where the gain may be zero most intervals are open above", () => {
    const c = conversionCoverage({ ...base, gainGPerD: 3 }, 3000, 20260603);
    expect(c.unbounded).toBeGreaterThan(0.5);
  });
});
