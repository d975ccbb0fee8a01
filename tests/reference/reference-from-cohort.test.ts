import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { UsageError } from "../../src/core/usage-error.js";
import { fitCohort } from "../../src/growth/cohort/fit-cohort.js";
import { referenceFromCohort } from "../../src/reference/reference-from-cohort.js";
import { referenceZ } from "../../src/reference/reference-table.js";
import { lmsCentile } from "../../src/stats/lms/lms-z.js";

/** Invented animals on straight lines: level 2000 (sd 150), slope 60 (sd 8), reading error 30. */
function lines(seed: number, animals: number) {
  const random = seededRandom(seed);
  return Array.from({ length: animals }, (_, i) => {
    const level = 2000 + 150 * random.normal();
    const slope = 60 + 8 * random.normal();
    const ages = Array.from({ length: 15 }, (_, d) => 3 * d);
    const masses = ages.map((t) => level + slope * t + 30 * random.normal());
    return { animal: `l${i}`, ages, masses };
  });
}

describe("a reference from the cohort model of own seasons", () => {
  const fit = fitCohort(lines(7301, 30), { curve: "linear", random: ["W0", "g"] });
  const { value } = referenceFromCohort(fit, { draws: 40_000, seed: 7302 });

  it("has the centiles of the fitted normal distribution of animals (analytic)", () => {
    const [w0, g] = fit.value.population!.fixed.map((f) => f.estimate) as [number, number];
    const v = fit.value.population!.between;
    for (const row of value.rows.filter((r) => r.ageD % 14 === 0)) {
      const t = row.ageD - fit.value.origin;
      const sd = Math.sqrt(v[0]![0]! + 2 * t * v[0]![1]! + t * t * v[1]![1]!);
      // Masses of animals on straight lines are normal: z of 1.5 lies 1.5 sd above the mean.
      expect(Math.abs((row.m - (w0 + g * t)) / sd)).toBeLessThan(0.04);
      for (const z of [-1.5, 1.5]) {
        expect(Math.abs((lmsCentile(z, row)! - (w0 + g * t + z * sd)) / sd)).toBeLessThan(0.06);
      }
    }
  });

  it("covers the cohort's ages and nothing else, and says of how many animals it is", () => {
    expect(value.rows[0]!.ageD).toBe(0);
    expect(value.rows.at(-1)!.ageD).toBe(42);
    expect(value.animals).toBe(30);
    expect(referenceZ(value, 50, 5000).z).toBeNull();
    expect(Math.abs(referenceZ(value, 21, value.rows[21]!.m).z!)).toBeLessThan(1e-9);
  });

  it("refuses a cohort in another unit of age", () => {
    const weeks = fitCohort(lines(7303, 12), {
      curve: "linear",
      random: ["W0", "g"],
      ageUnit: "weeks",
    });
    expect(() => referenceFromCohort(weeks)).toThrow(UsageError);
  });
});
