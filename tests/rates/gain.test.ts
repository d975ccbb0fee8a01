import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { dailyGains } from "../../src/rates/daily-gains.js";
import { gainAdjustedMass } from "../../src/rates/gain-adjusted-mass.js";
import { gainBetween } from "../../src/rates/gain-between.js";
import { gainOverWindow } from "../../src/rates/gain-over-window.js";
import { inventedSeries } from "../flags/invented-study.js";

const day = 86_400_000;
const row = (d: number, massG: number) => ({
  feedingDay: "2031-01-01",
  at: d * day,
  massG,
  ageD: d,
  sinceAdmissionD: d,
  errorG: 10,
  usualCondition: true,
  nWeighings: 1,
});

describe("gain between two weighings", () => {
  it("gives the worked relative growth rate: 2 to 5 kg in 60 d", () => {
    // Textbook relative growth rate, worked example 100 ln(5/2)/60 = 1.527151 %/d; 50 g/d.
    const g = gainBetween({ at: 0, massG: 2000 }, { at: 60 * day, massG: 5000 });
    expect(g.gain.value).toBe(50);
    expect(g.relative.value).toBeCloseTo(1.527151, 6);
  });

  it("carries the stated errors of both masses", () => {
    // Error propagation by hand: sqrt(30^2 + 40^2) / 10 = 5 g/d.
    const g = gainBetween(
      { at: 0, massG: 2000, errorG: 30 },
      { at: 10 * day, massG: 2500, errorG: 40 },
    );
    expect(g.gain.se).toBeCloseTo(5, 12);
  });

  it("says why where no time passed or a mass is not positive", () => {
    expect(gainBetween({ at: 5, massG: 1 }, { at: 5, massG: 2 }).gain).toMatchObject({
      value: null,
      why: { code: "gain-no-time-between" },
    });
    expect(gainBetween({ at: 0, massG: -1 }, { at: day, massG: 2 }).relative).toMatchObject({
      value: null,
      why: { code: "gain-mass-not-positive" },
    });
  });
});

describe("gain over a window", () => {
  it("gives the slope and its standard error of an independent data set", () => {
    // R data set `women` (15 heights one inch apart, weights), lm(weight ~ height):
    // slope 3.45, standard error 0.09114.
    const weights = [115, 117, 120, 123, 126, 129, 132, 135, 139, 142, 146, 150, 154, 159, 164];
    const g = gainOverWindow(
      weights.map((w, i) => row(i, w)),
      { days: 20 },
    );
    expect(g.gain.value).toBeCloseTo(3.45, 10);
    expect(g.gain.se).toBeCloseTo(0.0911365, 6);
    expect(g.n).toBe(15);
  });

  it("gives the textbook interval of independent errors where a level is asked for", () => {
    // R: confint(lm(weight ~ height, women)): 3.253112 to 3.646888.
    const weights = [115, 117, 120, 123, 126, 129, 132, 135, 139, 142, 146, 150, 154, 159, 164];
    const rows = weights.map((w, i) => row(i, w));
    const g = gainOverWindow(rows, { days: 20, errors: "independent", level: 0.95 });
    expect(g.gain.interval!.lower!).toBeCloseTo(3.253112, 6);
    expect(g.gain.interval!.upper!).toBeCloseTo(3.646888, 6);
    // These residuals make a bow, neighbours alike: the allowance for it is wider.
    const serial = gainOverWindow(rows, { days: 20, errors: "serial" });
    expect(serial.gain.value).toBeCloseTo(3.45, 10);
    expect(serial.gain.se!).toBeGreaterThan(1.5 * g.gain.se!);
    expect(serial.gain.interval!.lower!).toBeLessThan(3.2);
    expect(gainOverWindow(rows, { days: 20 }).gain.interval).toBeUndefined();
  });

  it("equals the gain between them when two weighings lie in the window", () => {
    const rows = [row(0, 2000), row(6, 2200)];
    const window = gainOverWindow(rows, { days: 7, minimumWeighings: 2 });
    const between = gainBetween(rows[0]!, rows[1]!);
    expect(window.gain.value).toBeCloseTo(between.gain.value!, 10);
    expect(window.relative.value).toBeCloseTo(between.relative.value!, 10);
    expect(window.gain.se).toBeCloseTo(between.gain.se!, 10);
    expect(window.relative.se).toBeCloseTo(between.relative.se!, 10);
  });

  it("reads only the window, and nothing after its end", () => {
    const rows = [row(0, 1), ...Array.from({ length: 7 }, (_, i) => row(10 + i, 2000 + 50 * i))];
    const g = gainOverWindow([...rows, row(17, 9)], { endAt: 16 * day, days: 7 });
    expect(g.gain.value).toBeCloseTo(50, 9);
    expect(g.n).toBe(7);
  });

  it("refuses too few weighings and too short a span", () => {
    expect(gainOverWindow([row(0, 1), row(1, 2)], {}).gain.why?.code).toBe("gain-few-weighings");
    expect(
      gainOverWindow([row(0, 10), row(0.1, 10), row(0.2, 11), row(0.3, 10)]).gain.why?.code,
    ).toBe("gain-short-span");
    expect(gainOverWindow([]).gain.value).toBeNull();
  });

  it("scales with the unit and ignores a shift of time", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 500, max: 9000, noNaN: true }), { minLength: 5, maxLength: 7 }),
        fc.double({ min: 0.01, max: 100, noNaN: true }),
        fc.integer({ min: -5000, max: 5000 }),
        (masses, factor, shift) => {
          const a = gainOverWindow(masses.map((m, i) => row(i, m)));
          const b = gainOverWindow(masses.map((m, i) => row(i + shift, m * factor)));
          expect(b.gain.value! / factor).toBeCloseTo(a.gain.value!, 6);
          expect(b.relative.value!).toBeCloseTo(a.relative.value!, 8);
        },
      ),
    );
  });
});

describe("daily gains", () => {
  it("gives each row what was known on its day", () => {
    const masses = [2000, 2020, 2040, 2060, 2080, 2100, 2120, 2140, 2160];
    const whole = dailyGains(inventedSeries({ id: "A", birth: "2031-01-01", masses }));
    const part = dailyGains(
      inventedSeries({ id: "A", birth: "2031-01-01", masses: masses.slice(0, 6) }),
    );
    expect(whole.slice(0, 6)).toEqual(part);
    expect(whole[0]!.sinceLast).toBeNull();
    expect(whole[8]!.sinceLast!.gain.value).toBeCloseTo(20, 9);
    expect(whole[8]!.overWindow.gain.value).toBeCloseTo(20, 9);
  });

  it("gives intervals that hold in nine of ten weeks and more of gut fill that lasts", () => {
    // Gut fill with correlation 0.5 about a gain of 30 g/d; 60 days each of 40 animals, one
    // window of seven weighings every tenth day from day 30 on, with what was known by then.
    const random = seededRandom(20260704);
    let held = 0;
    let alone = 0;
    let all = 0;
    for (let animal = 0; animal < 40; animal++) {
      let gut = random.normal();
      const masses = Array.from({ length: 60 }, (_, d) => {
        gut = 0.5 * gut + Math.sqrt(0.75) * random.normal();
        return 2000 + 30 * d + 25 * gut;
      });
      const series = inventedSeries({ id: "A", birth: "2031-01-01", masses });
      const serial = dailyGains(series);
      const independent = dailyGains(series, { errors: "independent", level: 0.95 });
      const holds = (g: (typeof serial)[number]) => {
        const { lower, upper } = g.overWindow.gain.interval!;
        return lower! <= 30 && 30 <= upper!;
      };
      for (let d = 30; d < 60; d += 10) {
        all++;
        if (holds(serial[d]!)) held++;
        if (holds(independent[d]!)) alone++;
      }
    }
    // 120 windows: one standard error is 2 %.
    expect(held / all).toBeGreaterThan(0.9);
    expect(alone / all).toBeLessThan(0.9);
  });

  it("moves nothing when the future changes", () => {
    const random = seededRandom(20260705);
    const masses = Array.from({ length: 45 }, (_, d) => 2000 + 30 * d + 25 * random.normal());
    const later = masses.map((m, d) => (d > 30 ? m + 200 * random.normal() : m));
    const [a, b] = [masses, later].map((m) =>
      dailyGains(inventedSeries({ id: "A", birth: "2031-01-01", masses: m })),
    );
    expect(b!.slice(0, 31)).toEqual(a!.slice(0, 31));
  });
});

describe("mass adjusted to a standard age", () => {
  it("gives the 205-day weights of the worked examples", () => {
    // Beef Improvement Federation guidelines: birth 95 lb, 800 lb at 210 d (breed-society example;
    // its printed 783.8 rounds the daily gain first), and 80 lb, 500 lb at 230 d, male, dam of 2 years (+60).
    const first = gainAdjustedMass({ birth: 95, mass: 800, ageD: 210, unit: "lb" });
    expect(first.gainPerDay.value).toBeCloseTo(3.357142857, 9);
    expect(first.adjusted.value).toBeCloseTo(783.214286, 6);
    const second = gainAdjustedMass({ birth: 80, mass: 500, ageD: 230, unit: "lb" }, { add: 60 });
    expect(second.adjusted.value).toBeCloseTo(514.347826, 6);
  });

  it("adjusts nothing outside the ages allowed", () => {
    const g = gainAdjustedMass({ birth: 80, mass: 400, ageD: 150, unit: "lb" });
    expect(g.adjusted.why?.code).toBe("gain-age-outside-adjustment");
    expect(g.gainPerDay.value).not.toBeNull();
  });
});
