import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { slopeBasis, slopeBasisAt } from "../../src/stats/smoothing/smooth-slope-basis.js";
import { filterColumn, filterGains } from "../../src/stats/state-space/group.js";
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

describe("the parts of the group model", () => {
  it("has basis functions whose slopes add up to one: the curve of equal slopes is a straight line", () => {
    const basis = slopeBasis(0, 60, { spacing: 20, changeSd: 0.01, slopeSd: 1 });
    const row = new Float64Array(4);
    for (const t of [-5, 0, 3, 20, 47.5, 60, 80]) {
      slopeBasisAt(basis, t, row, 0);
      expect(row.reduce((a, b) => a + b, 0)).toBeCloseTo(t, 10);
    }
  });

  it("whitens: filtered columns give generalised least squares", () => {
    // The filtered unit columns L^-1 satisfy L L' = V; V is built by hand from the definition.
    const time = [0, 1, 2.5, 3];
    const p = { noiseSd: 0.3, persistentShare: 0.4, slopeSd: 0.1, walkSd: 0.2 };
    const knownVariance = [0.01, 0, 0.04, 0];
    const n = 4;
    const gains = filterGains({ time, y: time, knownVariance }, n, p);
    const inverse = Array.from({ length: n }, (_, c) => {
      const unit = new Float64Array(n);
      unit[c] = 1;
      const out = new Float64Array(n);
      filterColumn(gains, unit, 0, out);
      return out;
    });
    // W V W' = I with W = (inverse columns).
    const v = (i: number, j: number) => {
      const lo = Math.min(time[i]!, time[j]!);
      const gap = Math.abs(time[i]! - time[j]!);
      const white = i === j ? 0.09 * 0.6 + knownVariance[i]! : 0;
      const lasting = 0.09 * 0.4 * 0.5 ** gap;
      // Slope path: b at value k, decaying with 60, integrated stepwise as the filter does.
      return 4 + white + lasting + 0.04 * lo + slopePart(i, j);
    };
    const slopePart = (i: number, j: number) => {
      let sum = 0;
      for (let a = 0; a < i; a++) {
        for (let b = 0; b < j; b++) {
          sum +=
            (time[a + 1]! - time[a]!) *
            (time[b + 1]! - time[b]!) *
            0.01 *
            Math.exp(-Math.abs(time[a]! - time[b]!) / 60);
        }
      }
      return sum;
    };
    for (let r = 0; r < n; r++) {
      for (let c = 0; c < n; c++) {
        let sum = 0;
        for (let i = 0; i < n; i++)
          for (let j = 0; j < n; j++) sum += inverse[i]![r]! * v(i, j) * inverse[j]![c]!;
        expect(sum).toBeCloseTo(r === c ? 1 : 0, 8);
      }
    }
  });
});
