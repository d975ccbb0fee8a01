import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { feedConversion } from "../../src/rates/feed-conversion.js";
import { dailyMasses, day, feedsEvery, hour, smallSeries, start } from "./small-study.js";

/** 15 daily masses with small errors that leave slope 40 g/d, and 8 feeds of 50 g a day. */
const wiggle = [3, -2, -4, 1, 5, -3, 0, 2, 0, -3, 5, 1, -4, -2, 3];
const masses = dailyMasses(15, (d) => 2000 + 40 * d + wiggle[d]!);
const feeds = feedsEvery(3, start, start + 14 * day);
const parts = { weighings: masses, feeds };

describe("feed conversion", () => {
  it("is feed kept between two weighings over regression gain, on three bases", () => {
    const r = feedConversion(smallSeries(parts)).value;
    expect([r.from, r.to, r.days, r.weighings, r.feeds]).toEqual([
      start,
      start + 14 * day,
      14,
      15,
      112,
    ]);
    // The wiggle is symmetric in time, so it leaves the slope alone.
    expect(r.gain.value).toBeCloseTo(40, 10);
    expect(r.eatenG.value).toBe(5600);
    expect(r.feedPerGain.asFed.value).toBeCloseTo(10, 10);
    expect(r.feedPerGain.dryMatter.value).toBeCloseTo(2, 10);
    expect(r.feedPerGain.energy.value).toBeCloseTo(11.6, 10);
    expect(r.gainPerFeed.asFed.value).toBeCloseTo(0.1, 12);
    expect(r.gainPerFeed.energy.value).toBeCloseTo(1 / 11.6, 12);
    expect(r.feedPerGain.energy.unit).toBe("kcal/g");
    const { lower, upper } = r.feedPerGain.asFed.interval!;
    expect(lower!).toBeLessThan(10);
    expect(upper!).toBeGreaterThan(10);
  });

  it("counts feeds in [t1, t2) only: the feed at the first weighing, not that at the last", () => {
    const more = [
      ...feeds,
      { at: start + 14 * day, offeredG: 500 },
      { at: start - hour, offeredG: 500 },
    ];
    expect(feedConversion(smallSeries({ ...parts, feeds: more })).value.eatenG.value).toBe(5600);
  });

  it("finds the window although the clock time of weighing wanders", () => {
    const late = masses.map(([at, g], d) => [at + (d === 0 ? -20 : 5) * 60_000, g] as const);
    const r = feedConversion(smallSeries({ ...parts, weighings: late })).value;
    expect(r.weighings).toBe(15);
    expect(feedConversion(smallSeries(parts), { days: 7 }).value.days).toBe(7);
    const endAt = start + 10 * day + hour;
    expect(feedConversion(smallSeries(parts), { days: 7, endAt }).value.to).toBe(start + 10 * day);
  });

  it("is not defined when nothing was gained; gain per feed still is", () => {
    const loses = dailyMasses(15, (d) => 2600 - 40 * d + wiggle[d]!);
    const r = feedConversion(smallSeries({ ...parts, weighings: loses })).value;
    expect(r.feedPerGain.asFed.value).toBeNull();
    expect(r.feedPerGain.asFed.why?.code).toBe("conversion-no-gain");
    expect(r.gainPerFeed.asFed.value).toBeCloseTo(-0.1, 12);
  });

  it("says unbounded when the gain may be zero", () => {
    const noise = [60, -40, -70, 20, 90, -50, 10, 30, 0, -60, 80, 20, -70, -40, 60];
    const flat = dailyMasses(15, (d) => 2000 + 2 * d + noise[d]!);
    const r = feedConversion(smallSeries({ ...parts, weighings: flat })).value;
    expect(r.feedPerGain.asFed.value).toBeGreaterThan(0);
    expect(r.feedPerGain.asFed.interval?.upper).toBeNull();
    expect(r.feedPerGain.asFed.interval?.lower).toBeGreaterThan(0);
    expect(r.gainPerFeed.asFed.interval?.lower).toBeLessThan(0);
  });

  it("becomes a range when a refusal is not known", () => {
    const some = feeds.map((f, i) => (i < 14 ? { ...f, refusedG: null } : f));
    const r = feedConversion(smallSeries({ ...parts, feeds: some }));
    const { asFed } = r.value.feedPerGain;
    expect(asFed.value).toBeNull();
    expect(asFed.range?.low).toBeCloseTo(8.75, 10);
    expect(asFed.range?.high).toBeCloseTo(10, 10);
    expect(asFed.interval!.lower!).toBeLessThan(8.75);
    expect(r.notices.map((n) => n.code)).toContain("conversion-feed-unknown");
  });

  it("is 'at least' when a day of feeds is missing from the records", () => {
    const gap = feeds.filter((f) => f.at < start + 5 * day || f.at >= start + 7 * day);
    const r = feedConversion(smallSeries({ ...parts, feeds: gap }));
    expect(r.value.feedPerGain.asFed.range).toMatchObject({ high: null });
    expect(r.notices.map((n) => n.code)).toContain("conversion-gap-in-feeds");
  });

  it.each([
    [
      // Six hours hold 100 to 150 g of 5600: ten such lines leave a quarter open.
      {
        observations: Array.from({ length: 10 }, (_, i) => ({
          at: start + (i + 1) * day,
          kind: "vomit",
          valueText: "seen",
        })),
      },
      "conversion-feed-lost",
    ],
    [{ weighings: masses.slice(0, 4) }, "conversion-few-weighings"],
    [{ weighings: masses.slice(0, 6) }, "conversion-short-window"],
    [{ weighings: [] }, "conversion-few-weighings"],
    [{ feeds: [] }, "conversion-no-feeds"],
    [{ feeds: feeds.map((f) => ({ ...f, refusedG: 50 })) }, "conversion-nothing-eaten"],
  ])("is not computed, with the reason: %#", (change, code) => {
    const { asFed } = feedConversion(smallSeries({ ...parts, ...(change as object) })).value
      .feedPerGain;
    expect(asFed.value).toBeNull();
    expect(asFed.why?.code).toBe(code);
  });

  it("is of what was kept, where that is known to within 15 %, and says so", () => {
    const whole = feedConversion(smallSeries(parts)).value;
    const eaten = whole.eatenG.value!;
    const with10 = (more: object) =>
      feedConversion(
        smallSeries({
          ...parts,
          observations: [{ at: start + day + 1, kind: "vomit", ...more }],
        }),
      );
    // Ten grams that were weighed are known: the conversion is of ten grams less.
    const weighed = with10({ valueText: "10 g" });
    expect(weighed.value.eatenG.value).toBe(eaten);
    expect(weighed.value.kept.g.value).toBeCloseTo(eaten - 10, 9);
    const { value, range } = weighed.value.feedPerGain.asFed;
    expect(range ?? null).toBeNull();
    expect(value).toBeCloseTo((eaten - 10) / whole.gainedG!, 9);
    expect(weighed.notices.map((n) => n.code)).toContain("conversion-of-kept");
    // Not weighed, it may be all of the six hours before: those feeds are the range.
    const before = whole.eatenG.high! - with10({ valueText: "small" }).value.kept.g.low;
    expect(before).toBeGreaterThan(0);
    expect(before / eaten).toBeLessThan(0.15);
  });

  it("takes 'vomit: none' as an observation that nothing happened", () => {
    const observations = [{ at: start + day, kind: "vomit", valueText: "none" }];
    expect(
      feedConversion(smallSeries({ ...parts, observations })).value.feedPerGain.asFed.value,
    ).not.toBeNull();
  });

  it("gives the energy ratio a range, not a number, when one diet's energy is not known", () => {
    const mixed = feeds.map((f, i) => (i === 3 ? { ...f, dietId: "lost" } : f));
    const { asFed, energy } = feedConversion(smallSeries({ ...parts, feeds: mixed })).value
      .feedPerGain;
    expect(asFed.value).toBeCloseTo(10, 10);
    expect(energy.value).toBeNull();
    expect(energy.range).toMatchObject({ high: null });
  });

  it("obeys its laws: shift of time changes nothing, more feed raises it in proportion", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -400, max: 400 }),
        fc.integer({ min: 1, max: 5 }),
        (shiftD, times) => {
          const moved = (at: number) => at + shiftD * day;
          const far = smallSeries({
            animal: { birthDateEarliest: null, birthDateLatest: null, birthDateBasis: "unknown" },
            weighings: masses.map(([at, g]) => [moved(at), g] as const),
            feeds: feeds.map((f) => ({ ...f, at: moved(f.at), offeredG: 50 * times })),
          });
          const r = feedConversion(far).value;
          expect(r.feedPerGain.asFed.value).toBeCloseTo(10 * times, 8);
        },
      ),
      { seed: 20260104, numRuns: 25 },
    );
  });

  // Coverage of Fieller's interval, small sibling of the bench "conversion-coverage".
  it("covers the truth in 93 to 97 of 100 simulated windows, errors independent and taken so", () => {
    const random = seededRandom(20260105);
    const trueRatio = (8 * 50) / 30;
    let covered = 0;
    const runs = 1200;
    for (let run = 0; run < runs; run++) {
      const weighings = dailyMasses(15, (d) => 2000 + 30 * d + 25 * random.normal());
      const given = feedsEvery(6, start, start + 14 * day).map((f) => ({
        ...f,
        offeredG: 100 + random.normal(),
      }));
      const i = feedConversion(smallSeries({ weighings, feeds: given }), {
        errors: "independent",
      }).value.feedPerGain.asFed.interval;
      if (i && (i.lower ?? 0) <= trueRatio && trueRatio <= (i.upper ?? Infinity)) covered++;
    }
    // 1200 runs at 95 %: one standard error is 0.63 %.
    expect(covered / runs).toBeGreaterThan(0.93);
    expect(covered / runs).toBeLessThan(0.97);
  });
});
