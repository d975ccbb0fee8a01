import { describe, expect, it } from "vitest";
import { type CoursePoint, scaleSteps, stepAt } from "../../src/flags/scale-steps.js";
import { parseStudy } from "../../src/records/parse-study.js";
import { buildSeries } from "../../src/series/build-series.js";
import type { Planted } from "../bench/causes/families.js";
import { inventedNursery } from "../bench/causes/invented-nursery.js";

const points = (f: (x: number) => number): CoursePoint[] =>
  Array.from({ length: 15 }, (_, i) => ({ time: i, log: f(i - 7), error: 0.007 }));

const seriesOf = (planted: Planted, seed: number) => {
  const nursery = inventedNursery(planted, seed);
  const encode = (text: string) => new TextEncoder().encode(text);
  const study = parseStudy(nursery.files.map(({ path, text }) => ({ path, bytes: encode(text) })));
  return { nursery, series: buildSeries(study) };
};
const untilEnd = (onDay: string) => Date.parse(`${onDay}T23:59:00Z`);

describe("a step in a course", () => {
  it("is found whole, and a bend at the same place moves it by nothing (by hand)", () => {
    // 2 % a day with 5 % off from day 7 on.
    expect(
      stepAt(
        points((x) => 0.02 * x - (x >= 0 ? 0.05 : 0)),
        7,
      )!.step,
    ).toBeCloseTo(-0.05, 10);
    // 2 % a day, none from day 7 on: no reading jumps. Seven days to either side, the first at the bend.
    const bent = stepAt(
      points((x) => 0.02 * Math.min(0, x)),
      7,
    )!;
    expect(Math.abs(bent.step)).toBeLessThan(0.012);
    expect(stepAt(points(() => 1).slice(0, 9), 2)).toBeNull();
  });
});

describe("a step of everything on one scale", () => {
  // Seeds 20291400 on, written down before the first run.
  it("is dated within two days, whatever the checks say, and asks for one where none was made", () => {
    let found = 0;
    for (let seed = 20291400; seed < 20291406; seed++) {
      const { nursery, series } = seriesOf("scale", seed);
      const { scenario, onDay } = nursery;
      const [step] = scaleSteps(series, { until: untilEnd(onDay) });
      if (step === undefined) continue;
      found++;
      const truly = Date.parse(onDay) - scenario.ago * 86_400_000;
      expect(Math.abs(Date.parse(step.day) - truly) / 86_400_000).toBeLessThanOrEqual(2);
      expect(step.pct).toBeLessThan(0);
      expect(Math.abs(step.pct + 100 * scenario.size)).toBeLessThan(4 * step.sePct + 0.5);
      expect(step.check === "failed" || !scenario.written || scenario.ago < 8).toBe(true);
      if (!scenario.written) expect(step.check).toBe("none");
    }
    expect(found).toBeGreaterThanOrEqual(5);
  });

  it("is not made of a shared slowing, a thin batch or of nothing", () => {
    for (const planted of ["shared cause", "thin batch", "small but healthy"] as const)
      for (let seed = 20292400; seed < 20292404; seed++) {
        const { nursery, series } = seriesOf(planted, seed);
        expect(
          scaleSteps(series, { until: untilEnd(nursery.onDay) }),
          `${planted} ${seed}`,
        ).toEqual([]);
      }
  });
});
