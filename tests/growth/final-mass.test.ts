import { describe, expect, it } from "vitest";
import { fitCurve } from "../../src/growth/fit-curve.js";

const codes = (fit: ReturnType<typeof fitCurve>) => fit.notices.map((n) => n.code);

describe("a final mass far beyond the data", () => {
  it("is said to come from the form of the curve, however small its standard error", () => {
    // An exact Gompertz curve, weighed only up to a quarter of its final mass.
    const ages = Array.from({ length: 40 }, (_, i) => 5 + 4 * i);
    const masses = ages.map((t) => 48_000 * Math.exp(-Math.exp(-0.0066 * (t - 190))));
    const fit = fitCurve({ ages, masses }, { curve: "gompertz" });
    expect(fit.value.asymptoteIdentified).toBe(true);
    expect(codes(fit)).toContain("growth-final-mass-beyond-data");
  });

  it("is not said of a series that reaches its plateau (NIST StRD Rat42)", () => {
    // Certified A 72.462237576; the last of the nine yields is 67.08.
    const fit = fitCurve(
      {
        ages: [9, 14, 21, 28, 42, 57, 63, 70, 79],
        masses: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
      },
      { curve: "logistic" },
    );
    expect(fit.value.estimates[0]!.estimate.value).toBeCloseTo(72.462237576, 6);
    expect(codes(fit)).not.toContain("growth-final-mass-beyond-data");
  });
});
