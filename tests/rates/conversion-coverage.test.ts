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
  noise: "normal",
};

describe("coverage of the interval of a feed conversion", () => {
  // 6000 windows at 95 %: one standard error is 0.28 %.
  it.each([base, { ...base, weighings: 8 }, { ...base, noise: "heavy tails" as const }])(
    "Fieller holds 93 to 97 %: %j",
    (s) => {
      const c = conversionCoverage(s, 6000, 20260601);
      expect(c.covered).toBeGreaterThan(0.93);
      expect(c.covered).toBeLessThan(0.97);
    },
  );

  // 1500 windows: one standard error is 0.56 %.
  it("so does the bootstrap-t", () => {
    const c = conversionCoverage(base, 1500, 20260602, 399);
    expect(c.covered).toBeGreaterThan(0.93);
    expect(c.covered).toBeLessThan(0.97);
  });

  it("and where the gain may be zero most intervals are open above", () => {
    const c = conversionCoverage({ ...base, gainGPerD: 3 }, 3000, 20260603);
    expect(c.unbounded).toBeGreaterThan(0.5);
  });
});
