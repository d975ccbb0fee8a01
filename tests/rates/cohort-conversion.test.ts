import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { cohortConversion } from "../../src/rates/cohort-conversion.js";
import { feedConversion } from "../../src/rates/feed-conversion.js";
import { resampleConversion } from "../../src/rates/resample-conversion.js";
import { dailyMasses, day, feedsEvery, smallSeries, start } from "./small-study.js";

const conversionOf = (gain: number, offeredG: number, more: object = {}) =>
  feedConversion(
    smallSeries({
      weighings: dailyMasses(15, (d) => 2000 + gain * d),
      feeds: feedsEvery(6, start, start + 14 * day, { offeredG, ...more }),
    }),
  ).value;

describe("conversion of a cohort", () => {
  const three = [conversionOf(40, 100), conversionOf(10, 90), conversionOf(30, 110)];

  it("is the ratio of sums, not the mean of ratios", () => {
    const r = cohortConversion(three).value;
    // 56 feeds of 100, 90 and 110 g over 14 d x (40 + 10 + 30) g.
    expect(r.feedPerGain.asFed.value).toBeCloseTo((56 * 300) / (14 * 80), 10);
    expect(r.gainPerFeed.asFed.value).toBeCloseTo((14 * 80) / (56 * 300), 12);
    expect(r.feedPerGain.energy.value).toBeCloseTo((56 * 300 * 1.16) / (14 * 80), 8);
    expect(r.animals).toHaveLength(3);
    const { lower, upper } = r.feedPerGain.asFed.interval!;
    expect(lower!).toBeLessThan(15);
    // Three animals as different as these leave the upper end open.
    expect(upper === null || upper > 15).toBe(true);
  });

  it("keeps those that lost mass, leaves out those whose feed is not known, and counts them", () => {
    const loser = conversionOf(-5, 80);
    const open = conversionOf(40, 100, { refusedG: null });
    const r = cohortConversion([...three, loser, open]);
    expect(r.value.animals).toHaveLength(4);
    expect(r.value.feedPerGain.asFed.value).toBeCloseTo((56 * 380) / (14 * 75), 10);
    expect(r.basis.leftOut[0]?.count).toBe(1);
  });

  it("takes the middle of a range that is narrow", () => {
    const series = smallSeries({
      weighings: dailyMasses(15, (d) => 2000 + 40 * d),
      feeds: feedsEvery(6, start, start + 14 * day, { offeredG: 100 }).map((f, i) =>
        i === 3 ? { ...f, refusedG: null } : f,
      ),
    });
    const r = cohortConversion([feedConversion(series).value]).value;
    expect(r.feedPerGain.asFed.value).toBeCloseTo((5500 + 50) / 560, 10);
  });

  it("is not defined for nobody, or for a cohort that lost mass", () => {
    expect(cohortConversion([]).value.feedPerGain.asFed.why?.code).toBe(
      "cohort-conversion-no-animals",
    );
    expect(cohortConversion([conversionOf(-5, 80)]).value.feedPerGain.asFed.why?.code).toBe(
      "cohort-conversion-no-gain",
    );
  });

  // Small sibling of the bench "conversion-coverage": animals as the sample.
  it("covers the truth in 93 to 97 of 100 simulated cohorts", () => {
    const random = seededRandom(20260301);
    const blank = three[0]!;
    let covered = 0;
    const runs = 1500;
    for (let k = 0; k < runs; k++) {
      const cohort = Array.from({ length: 8 }, () => {
        const gained = 500 + 120 * random.normal();
        const eaten = 6000 + 8 * (gained - 500) + 400 * random.normal();
        const g = { low: eaten, high: eaten, value: eaten };
        return { ...blank, gainedG: gained, eatenG: g, kept: { ...blank.kept, g } };
      });
      const i = cohortConversion(cohort).value.feedPerGain.asFed.interval!;
      if (i.lower! <= 12 && 12 <= (i.upper ?? Number.POSITIVE_INFINITY)) covered++;
    }
    expect(covered / runs).toBeGreaterThan(0.93);
    expect(covered / runs).toBeLessThan(0.97);
  });
});

describe("the bootstrap of one animal's conversion", () => {
  const wiggle = [9, -14, 4, 16, -12, 2, -8, 11, -3, 7, -15, 6, 10, -18, 5];
  const parts = {
    weighings: dailyMasses(15, (d) => 2000 + 40 * d + wiggle[d]!),
    feeds: feedsEvery(6, start, start + 14 * day, { offeredG: 100 }),
  };

  it("lies near Fieller's interval, and the same seed gives the same", () => {
    const r = resampleConversion(smallSeries(parts), { seed: 11 }).value;
    expect(r.bootstrap!.lower!).toBeCloseTo(r.fieller!.lower!, 0);
    expect(r.bootstrap!.upper!).toBeCloseTo(r.fieller!.upper!, 0);
    expect(r.bootstrap!.lower!).toBeLessThan(r.feedPerGain!);
    expect(r.bootstrap!.upper!).toBeGreaterThan(r.feedPerGain!);
    expect(resampleConversion(smallSeries(parts), { seed: 11 }).value).toEqual(r);
    expect(resampleConversion(smallSeries(parts), { seed: 12 }).value).not.toEqual(r);
  });

  it("is open above where the gain may be zero, and absent where nothing is defined", () => {
    const noisy = { ...parts, weighings: dailyMasses(15, (d) => 2000 + 2 * d + 5 * wiggle[d]!) };
    expect(resampleConversion(smallSeries(noisy), { seed: 1 }).value.bootstrap?.upper).toBeNull();
    const loses = { ...parts, weighings: dailyMasses(15, (d) => 2600 - 40 * d) };
    const r = resampleConversion(smallSeries(loses), { seed: 1 });
    expect(r.value.bootstrap).toBeNull();
    expect(r.notices.map((n) => n.code)).toContain("conversion-not-resampled");
  });

  it("stops when asked to", () => {
    const stop = new AbortController();
    stop.abort();
    expect(() =>
      resampleConversion(smallSeries(parts), { seed: 1, signal: stop.signal }),
    ).toThrow();
  });
});
