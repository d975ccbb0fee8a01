import { describe, expect, it } from "vitest";
import { growthLevels } from "../../src/archive/growth-levels.js";
import { seededRandom } from "../../src/core/random.js";

/**
 * Balanced one-way classification by hand (Snedecor and Cochran, Statistical Methods,
 * ch. 13: components of variance from mean squares): REML equals the analysis of variance
 * where its components are not negative.
 */
describe("growth by levels", () => {
  it("gives the components of the analysis of variance where the data are balanced", () => {
    const houses = { a: [38, 41, 40], b: [52, 49, 55], c: [44, 47, 41], d: [36, 33, 39] };
    const gains = Object.entries(houses).flatMap(([facility, own]) =>
      own.map((gain) => ({ facility, season: "2025", gain })),
    );
    const means = Object.values(houses).map((own) => own.reduce((s, g) => s + g, 0) / 3);
    const grand = means.reduce((s, m) => s + m, 0) / 4;
    const betweenSquare = (3 * means.reduce((s, m) => s + (m - grand) ** 2, 0)) / 3;
    const withinSquare =
      Object.values(houses).reduce(
        (s, own, i) => s + own.reduce((t, g) => t + (g - means[i]!) ** 2, 0),
        0,
      ) / 8;
    const { value, notices } = growthLevels(gains);
    expect(value.between.animals ** 2).toBeCloseTo(withinSquare, 5);
    expect(value.between.facilities ** 2).toBeCloseTo((betweenSquare - withinSquare) / 3, 4);
    expect(value.mean.value).toBeCloseTo(grand, 8);
    expect(value.mean.se).toBeCloseTo(Math.sqrt(betweenSquare / 12), 5);
    // Student's t with 3 degrees of freedom, 97.5 %: 3.182446 (printed tables).
    expect(value.mean.interval!.upper! - value.mean.value!).toBeCloseTo(
      3.182446 * value.mean.se!,
      4,
    );
    const shrink = 1 - withinSquare / betweenSquare;
    expect(value.facilities[1]!.expected.value).toBeCloseTo(
      grand + shrink * (means[1]! - grand),
      4,
    );
    expect(value.between.seasons).toBeNull();
    expect(notices.map((n) => n.code)).toContain("pool-without-season-level");
  });

  it("finds what houses, seasons and animals were drawn with", () => {
    const random = seededRandom(20261131);
    const gains = Array.from({ length: 30 }, (_, h) => {
      const house = 40 + 5 * random.normal();
      return Array.from({ length: 8 }, (__, s) => {
        const season = house + 3 * random.normal();
        return Array.from({ length: 8 }, () => ({
          facility: `house-${h}`,
          season: `${2018 + s}`,
          gain: season + 6 * random.normal(),
        }));
      });
    }).flat(2);
    const { value } = growthLevels(gains);
    // Four standard errors of each component, about sd / sqrt(2 (groups - 1)).
    expect(Math.abs(value.between.facilities - 5)).toBeLessThan(4 * (5 / Math.sqrt(58)));
    expect(Math.abs(value.between.seasons! - 3)).toBeLessThan(4 * (3 / Math.sqrt(2 * 209)) * 1.6);
    expect(Math.abs(value.between.animals - 6)).toBeLessThan(4 * (6 / Math.sqrt(2 * 1680)));
    expect(value.mean.interval!.lower!).toBeLessThan(40);
    expect(value.mean.interval!.upper!).toBeGreaterThan(40);
  });

  it("refuses one house", () => {
    expect(() => growthLevels([{ facility: "a", season: "2025", gain: 40 }])).toThrow(
      /two facilities/,
    );
  });
});
