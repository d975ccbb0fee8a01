import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { seededRandom } from "../../src/core/random.js";
import type { AnimalHistory } from "../../src/growth/cohort/animal-history.js";
import { cohortGains } from "../../src/growth/cohort/cohort-gains.js";
import { cohortMeanCurve } from "../../src/growth/cohort/cohort-mean-curve.js";
import { fitCohort } from "../../src/growth/cohort/fit-cohort.js";

const gompertz = (age: number, a: number, k: number, ti: number) =>
  a * Math.exp(-Math.exp(-k * (age - ti)));

/** Invented Gompertz animals: final mass 10 kg (sd 1.2), inflection at 40 d (sd 10), k 0.05. */
function cohort(seed: number, animals: number): AnimalHistory[] {
  const random = seededRandom(seed);
  return Array.from({ length: animals }, (_, i) => {
    const a = 10_000 + 1200 * random.normal();
    const ti = 40 + 10 * random.normal();
    const ages = Array.from({ length: 25 }, (_, d) => 4 * d + random.below(4));
    return {
      animal: `a${i}`,
      ages,
      masses: ages.map((age) => gompertz(age, a, 0.05, ti) + 80 * random.normal()),
      covariates: { season: i % 3 === 0 ? "one" : "two" },
    };
  });
}
const options = { curve: "gompertz", random: ["A", "Ti"] } as const;
const fit = fitCohort(cohort(7101, 20), options);

describe("the averaged curve of a cohort", () => {
  it("is the typical animal's where the curve is linear in what differs", () => {
    // Law: E[a + b t] = E[a] + t E[b], and its variance is that of the mean line.
    const random = seededRandom(7102);
    const lines = Array.from({ length: 12 }, (_, i) => {
      const level = 2000 + 150 * random.normal();
      const slope = 60 + 8 * random.normal();
      const ages = Array.from({ length: 15 }, (_, d) => 3 * d);
      const masses = ages.map((t) => level + slope * t + 30 * random.normal());
      return { animal: `l${i}`, ages, masses };
    });
    const line = fitCohort(lines, { curve: "linear", random: ["W0", "g"] });
    expect(line.value.converged).toBe(true);
    const { ages, gainOver } = cohortMeanCurve(line, { at: [0, 20, 40] }).value;
    const [w0, g] = line.value.population!.fixed.map((f) => f.estimate);
    const v = line.value.population!.fixedCovariance;
    for (const { age, mass } of ages) {
      expect(mass.average.value).toBeCloseTo(w0! + g! * age, 6);
      expect(mass.average.se).toBeCloseTo(
        Math.sqrt(v[0]![0]! + 2 * age * v[0]![1]! + age * age * v[1]![1]!),
        6,
      );
    }
    expect(gainOver.gain.average.value).toBeCloseTo(g!, 8);
    // Animals' gains are normal about it: the 90th centile is 1.2816 sd above the mean.
    const sd = Math.sqrt(line.value.population!.between[1]![1]!);
    expect(gainOver.gain.animals.upper.value! - g!).toBeGreaterThan(1.2 * sd);
    expect(gainOver.gain.animals.upper.value! - g!).toBeLessThan(1.36 * sd);
  });

  it("has the analytic mean of exponential growth whose rate differs", () => {
    // E[W0 exp(k t)] = W0 exp(k t + (s t)^2 / 2) for k normal: the log-normal mean.
    const random = seededRandom(7103);
    const grown = Array.from({ length: 15 }, (_, i) => {
      const k = 0.02 + 0.004 * random.normal();
      const ages = Array.from({ length: 20 }, (_, d) => 3 * d);
      const masses = ages.map((t) => 1500 * Math.exp(k * t) + 20 * random.normal());
      return { animal: `e${i}`, ages, masses };
    });
    const grew = fitCohort(grown, { curve: "exponential", random: ["k"] });
    expect(grew.value.converged).toBe(true);
    const { fixed, between, parameters } = grew.value.population!;
    const at = parameters.indexOf("k");
    const [w0, k] = fixed.map((f) => f.estimate);
    for (const { age, mass } of cohortMeanCurve(grew, { at: [10, 30, 60] }).value.ages) {
      const analytic = w0! * Math.exp(k! * age + (between[at]![at]! * age * age) / 2);
      expect(mass.average.value! / analytic).toBeCloseTo(1, 9);
      expect(mass.average.value!).toBeGreaterThan(mass.typical.value!);
    }
  });

  it("is the mean of 5,000 animals drawn one by one, and the bands are their centiles", () => {
    const { between, fixed } = fit.value.population!;
    const [a, k, ti] = fixed.map((f) => f.estimate);
    const l11 = Math.sqrt(between[0]![0]!);
    const l21 = between[2]![0]! / l11;
    const l22 = Math.sqrt(between[2]![2]! - l21 * l21);
    const random = seededRandom(7104);
    const drawn = Array.from({ length: 5000 }, () => {
      const z = random.normal();
      return [a! + l11 * z, ti! + l21 * z + l22 * random.normal()] as const;
    });
    const { ages, gainOver } = cohortMeanCurve(fit, { at: [15, 40, 80], from: 20, to: 60 }).value;
    const compare = (of: (typeof ages)[number]["mass"], own: readonly number[]) => {
      const mean = own.reduce((s, v) => s + v, 0) / own.length;
      const sd = Math.sqrt(own.reduce((s, v) => s + (v - mean) ** 2, 0) / own.length);
      expect(Math.abs(of.average.value! - mean)).toBeLessThan((4 * sd) / Math.sqrt(own.length));
      const below = (x: number) => own.filter((v) => v < x).length / own.length;
      // Two samples of 5,000 and 4,000: a share of 0.1 has a standard error of 0.0064.
      expect(Math.abs(below(of.animals.lower.value!) - 0.1)).toBeLessThan(4 * 0.0064);
      expect(Math.abs(below(of.animals.upper.value!) - 0.9)).toBeLessThan(4 * 0.0064);
    };
    for (const { age, mass, gain } of ages) {
      const massAt = (t: number) => drawn.map(([own, at]) => gompertz(t, own, k!, at));
      compare(mass, massAt(age));
      const late = massAt(age + 0.5);
      compare(
        gain,
        massAt(age - 0.5).map((m, i) => late[i]! - m),
      );
    }
    compare(
      gainOver.gain,
      drawn.map(([own, at]) => (gompertz(60, own, k!, at) - gompertz(20, own, k!, at)) / 40),
    );
  });

  it("has animals' gains around it, where the typical animal gains more than most", () => {
    const range = { from: 20, to: 60 };
    const { gain } = cohortMeanCurve(fit, { at: [40], ...range }).value.gainOver;
    const gains = cohortGains(fit, range).value;
    const own = gains.animals.map((each) => each.gain.value!);
    const mean = own.reduce((s, v) => s + v, 0) / own.length;
    expect(gain.typical.value).toBeCloseTo(gains.typical.value!, 9);
    expect(gain.typical.value!).toBeGreaterThan(gain.average.value!);
    expect(Math.abs(mean - gain.average.value!)).toBeLessThan(Math.abs(mean - gain.typical.value!));
    expect(mean).toBeGreaterThan(gain.average.interval!.lower!);
    expect(mean).toBeLessThan(gain.average.interval!.upper!);
    const inside = own.filter(
      (v) => v >= gain.animals.lower.value! && v <= gain.animals.upper.value!,
    ).length;
    // 80 % expected of 20 animals: 10 or fewer has a chance of 0.003 (binomial).
    expect(inside).toBeGreaterThan(10);
  });

  it("averages over the kinds of animals in the cohort, or over one kind", () => {
    const histories = cohort(7105, 18).map((h) => ({
      ...h,
      masses: h.masses.map((m) => (h.covariates!["season"] === "two" ? 1.2 * m : m)),
    }));
    const two = fitCohort(histories, { ...options, covariates: { A: ["season"] } });
    const massAt = (season?: string) =>
      cohortMeanCurve(two, {
        at: [90],
        from: 20,
        to: 60,
        ...(season === undefined ? {} : { covariates: { season } }),
      }).value.ages[0]!.mass.average.value!;
    // 6 animals of season one, 12 of season two.
    expect(massAt()).toBeCloseTo((6 * massAt("one") + 12 * massAt("two")) / 18, 6);
    expect(massAt("two")).toBeGreaterThan(massAt("one"));
    expect(() => massAt("three")).toThrow(/one, two/);
  });

  it("is plain data, repeats with its seed, follows the unit, and its notices have sentences", () => {
    const ask = { at: [0, 30, 400], from: 0, to: 30 };
    const result = cohortMeanCurve(fit, ask);
    expect(JSON.parse(JSON.stringify(result))).toEqual(result);
    expect(cohortMeanCurve(fit, ask)).toEqual(result);
    expect(result.notices.map((n) => n.code)).toEqual(["cohort-beyond-ages"]);
    expect(result.value.ages.map((each) => each.withinCohortAges)).toEqual([true, true, false]);
    const wild = {
      ...fit,
      value: {
        ...fit.value,
        population: {
          ...fit.value.population!,
          between: [
            [0, 0, 0],
            [0, 0.05 ** 2, 0],
            [0, 0, 0],
          ],
        },
      },
    };
    const [share] = cohortMeanCurve(wild, ask).notices;
    expect(share!.code).toBe("cohort-average-outside");
    // P(k < 0) with k about 0.05 and sd 0.05: 0.16.
    expect(Math.abs((share!.parameters["share"] as number) - 0.16)).toBeLessThan(0.03);
    expect(noticeText(share!)).toMatch(/left out/);
    const kg = fitCohort(
      cohort(7101, 20).map((h) => ({ ...h, masses: h.masses.map((m) => m / 1000) })),
      { ...options, massUnit: "kg" },
    );
    const { average } = cohortMeanCurve(kg, ask).value.ages[1]!.mass;
    expect(average.unit).toBe("kg");
    expect(average.value! * 1000).toBeCloseTo(result.value.ages[1]!.mass.average.value!, 1);
  });

  it("refuses a fit without a population and an empty range of ages", () => {
    const none = fitCohort(cohort(7101, 2), options);
    expect(() => cohortMeanCurve(none, { at: [10] })).toThrow(/too-few-animals/);
    expect(() => cohortMeanCurve(fit, { at: [10] })).toThrow(/lies after/);
  });
});

describe("coverage of the averaged curve's interval", () => {
  it("lies within 5 standard errors of simulation of the nominal 95 %", () => {
    // The smaller sibling of the bench cohort-mean-coverage: seeds 71001 to 71120.
    const cohorts = 120;
    // The true averages, by 200,000 drawn animals (their error is under 1 % of an interval).
    const random = seededRandom(7106);
    const truth = { mass: 0, gain: 0 };
    const draws = 200_000;
    for (let i = 0; i < draws; i++) {
      const a = 10_000 + 1200 * random.normal();
      const ti = 40 + 10 * random.normal();
      truth.mass += gompertz(40, a, 0.05, ti) / draws;
      truth.gain += (gompertz(60, a, 0.05, ti) - gompertz(20, a, 0.05, ti)) / 40 / draws;
    }
    const held = { mass: 0, gain: 0 };
    for (let r = 1; r <= cohorts; r++) {
      const one = fitCohort(cohort(71_000 + r, 12), options);
      expect(one.value.converged).toBe(true);
      const { ages, gainOver } = cohortMeanCurve(one, {
        at: [40],
        from: 20,
        to: 60,
        draws: 10,
      }).value;
      const count = (
        of: "mass" | "gain",
        interval: { lower: number | null; upper: number | null },
      ) => {
        if (truth[of] >= interval.lower! && truth[of] <= interval.upper!) held[of]++;
      };
      count("mass", ages[0]!.mass.average.interval!);
      count("gain", gainOver.gain.average.interval!);
    }
    const se = Math.sqrt((0.95 * 0.05) / cohorts);
    expect(Math.abs(held.mass / cohorts - 0.95)).toBeLessThan(5 * se);
    expect(Math.abs(held.gain / cohorts - 0.95)).toBeLessThan(5 * se);
  });
});
