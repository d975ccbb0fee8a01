import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { smoothTrend } from "../../src/stats/state-space/trend.js";

describe("local level and trend", () => {
  it("is the weighted straight line where nothing wanders", () => {
    // Ordinary least squares on y = 1, 3, 2, 5, 4 at 0..4: slope 0.8, intercept 1.4 (textbook arithmetic);
    // slope variance sigma^2 / 10 with sigma 1.
    const fit = smoothTrend([0, 1, 2, 3, 4], [1, 3, 2, 5, 4], [1, 1, 1, 1, 1], {
      levelSd: 0,
      slopeSd: 0,
      cut: Infinity,
    });
    expect(fit.smoothed[0]!.level).toBeCloseTo(1.4, 4);
    expect(fit.smoothed[0]!.slope).toBeCloseTo(0.8, 4);
    expect(fit.smoothed[4]!.level).toBeCloseTo(4.6, 4);
    expect(fit.smoothed[2]!.slopeSe).toBeCloseTo(Math.sqrt(0.1), 4);
    expect(fit.smoothed[2]!.levelSe).toBeCloseTo(Math.sqrt(0.2), 4);
  });

  it("is a random-walk filter where only the level wanders: the steady gain of the local level model", () => {
    // Harvey (1989) 4.1: for q = 1 the steady gain is (1 + sqrt(5)) / (3 + sqrt(5)) = 0.6180 (golden ratio).
    // A slope that starts diffuse would be estimated, so many values are used to wear it out.
    const random = seededRandom(3);
    const n = 4000;
    let level = 0;
    const y = Array.from({ length: n }, () => (level += random.normal()) + random.normal());
    const fit = smoothTrend(
      y.map((_, i) => i),
      y,
      y.map(() => 1),
      { levelSd: 1, slopeSd: 0, cut: Infinity },
    );
    expect(fit.filtered[n - 1]!.levelSe ** 2).toBeCloseTo(0.618034, 3);
    const surprises = fit.surprises.flatMap((s) => (s === null ? [] : [s]));
    const variance = surprises.reduce((a, b) => a + b * b, 0) / surprises.length;
    expect(Math.abs(variance - 1)).toBeLessThan(4 * Math.sqrt(2 / n));
  });

  it("covers the true level and slope at the stated rate, irregular times and errors included", () => {
    // 300 series, seed 4; 95 % intervals; the two ends of a binomial of 600 at 4 standard errors.
    let level95 = 0;
    let slope95 = 0;
    const root = seededRandom(4);
    for (let r = 0; r < 300; r++) {
      const random = root.split(r);
      const time: number[] = [];
      const y: number[] = [];
      const e: number[] = [];
      const truth: [number, number][] = [];
      let t = 0;
      let a = 7;
      let b = 0.01;
      for (let j = 0; j < 25; j++) {
        const dt = 0.3 + 2 * random.uniform();
        t += dt;
        const db = 0.001 * Math.sqrt(dt) * random.normal();
        a += b * dt + (db * dt) / 2 + 0.001 * Math.sqrt(dt ** 3 / 12) * random.normal();
        a += 0.002 * Math.sqrt(dt) * random.normal();
        b += db;
        const se = random.uniform() < 0.3 ? 0.04 : 0.015;
        time.push(t);
        e.push(se);
        truth.push([a, b]);
        y.push(a + se * random.normal());
      }
      const fit = smoothTrend(time, y, e, { levelSd: 0.002, slopeSd: 0.001, cut: Infinity });
      const s = fit.smoothed[12]!;
      if (Math.abs(s.level - truth[12]![0]) <= 1.96 * s.levelSe) level95++;
      if (Math.abs(s.slope - truth[12]![1]) <= 1.96 * s.slopeSe) slope95++;
    }
    for (const k of [level95, slope95])
      expect(Math.abs(k / 300 - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / 300));
  });

  it("is little moved by one wild value", () => {
    const y = Array.from({ length: 20 }, (_, i) => 7 + 0.01 * i);
    const wild = y.map((v, i) => (i === 10 ? v + 2.3 : v));
    const e = y.map(() => 0.015);
    const at = y.map((_, i) => i);
    const clean = smoothTrend(at, y, e, { levelSd: 0.002, slopeSd: 0.0005 }).smoothed[19]!;
    const moved = smoothTrend(at, wild, e, { levelSd: 0.002, slopeSd: 0.0005 }).smoothed[19]!;
    expect(Math.abs(moved.level - clean.level)).toBeLessThan(0.01);
  });

  it("has an answer for one value and for none", () => {
    expect(smoothTrend([], [], [], { levelSd: 1, slopeSd: 1 }).smoothed).toEqual([]);
    expect(smoothTrend([3], [5], [1], { levelSd: 1, slopeSd: 1 }).smoothed[0]!.level).toBe(5);
  });
});
