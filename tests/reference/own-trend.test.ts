import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { ownTrend } from "../../src/reference/own-trend.js";
import { velocityZ } from "../../src/reference/velocity-z.js";
import { lmsCentile } from "../../src/stats/lms/lms-z.js";
import { inventedSeries } from "../flags/invented-study.js";

describe("mass and gain from an animal's own weighings", () => {
  const random = seededRandom(20310915);
  const masses = Array.from({ length: 30 }, (_, i) =>
    i === 12 ? null : 2000 * Math.exp(0.01 * i + 0.015 * random.normal()),
  );
  const series = inventedSeries({ id: "A", birth: "2031-03-01", masses, errorG: 10 });
  const trend = ownTrend(series);

  it("covers the true mass and gain of an animal that grows 1 %/d", () => {
    const last = trend.value.at(-1)!;
    expect(last.relativeGain.interval!.lower!).toBeLessThan(1);
    expect(last.relativeGain.interval!.upper!).toBeGreaterThan(1);
    const truth = 2000 * Math.exp(0.29);
    expect(last.mass.interval!.lower!).toBeLessThan(truth);
    expect(last.mass.interval!.upper!).toBeGreaterThan(truth);
    // Less uncertain than one weighing (1.5 %).
    expect(last.mass.se! / last.mass.value!).toBeLessThan(0.015);
  });

  it("reads nothing after the instant asked for", () => {
    const at = series.daily[15]!.at;
    const cut = {
      ...series,
      daily: series.daily.map((d) => (d.at > at ? { ...d, massG: 9000 } : d)),
    };
    expect(ownTrend(cut, { upTo: at })).toEqual(ownTrend(series, { upTo: at }));
  });

  it("says when there is too little, and never fails", () => {
    const one = ownTrend(inventedSeries({ id: "B", birth: "2031-03-01", masses: [1900] }));
    expect(one.value[0]!.gain.value).toBeNull();
    expect(one.notices[0]!.code).toBe("own-trend-few");
    expect(ownTrend(inventedSeries({ id: "C", birth: "2031-03-01", masses: [] })).value).toEqual(
      [],
    );
  });
});

describe("velocity z", () => {
  it("is the z of the shifted increment, losses included", () => {
    const lms = { l: 0.7, m: 900, s: 0.25 };
    expect(velocityZ(lmsCentile(-1.3, lms)! - 400, lms, 400)!).toBeCloseTo(-1.3, 10);
    expect(velocityZ(-100, lms, 400)).not.toBeNull();
    expect(velocityZ(-500, lms, 400)).toBeNull();
  });
});
