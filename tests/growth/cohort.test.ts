import { describe, expect, it } from "vitest";
import { noticeText } from "../../src/core/catalogue.js";
import { seededRandom } from "../../src/core/random.js";
import type { AnimalHistory } from "../../src/growth/cohort/animal-history.js";
import { bootstrapCohort } from "../../src/growth/cohort/bootstrap-cohort.js";
import { calibrateCohort } from "../../src/growth/cohort/calibrate-cohort.js";
import { cohortGains } from "../../src/growth/cohort/cohort-gains.js";
import { defaultRandom, fitCohort } from "../../src/growth/cohort/fit-cohort.js";
import {
  followNewAnimal,
  predictForCohortAnimal,
  predictForNewAnimal,
} from "../../src/growth/cohort/predict-new-animal.js";
import { curveByName } from "../../src/growth/curve-catalogue.js";

const massAt = (age: number, a: number, k: number, ti: number) =>
  a / (1 + Math.exp(-k * (age - ti)));

/** Invented animals, logistic: mass 30 kg (sd 3), inflection 25 d (sd 4), k 0.1. */
function cohort(seed: number, animals: number, effect = 0): AnimalHistory[] {
  const random = seededRandom(seed);
  return Array.from({ length: animals }, (_, i) => {
    const season = i % 2 === 0 ? "one" : "two";
    const a = 30_000 + 3000 * random.normal() + (season === "two" ? effect : 0);
    const ti = 25 + 4 * random.normal();
    const ages: number[] = [];
    const masses: number[] = [];
    for (let age = random.below(4); age < 50; age += 1 + random.below(5)) {
      ages.push(age);
      masses.push(massAt(age, a, 0.1, ti) + 400 * random.normal());
    }
    return { animal: `a${i}`, ages, masses, covariates: { season } };
  });
}
const options = { curve: "logistic", random: ["A", "Ti"] } as const;

describe("a cohort", () => {
  const fit = fitCohort(cohort(1, 15), options);

  it("gives the typical animal, the differences and every animal's own curve", () => {
    expect(fit.value.status).toBe("converged");
    const [a, k, ti] = fit.value.parameters;
    expect(Math.abs(a!.typical.value! - 30_000)).toBeLessThan(4 * a!.typical.se!);
    expect(Math.abs(k!.typical.value! - 0.1)).toBeLessThan(4 * k!.typical.se!);
    expect(Math.abs(ti!.typical.value! - 25)).toBeLessThan(4 * ti!.typical.se!);
    expect(a!.between!.value).toBeGreaterThan(1000);
    expect(k!.between).toBeNull();
    expect(fit.value.animals).toHaveLength(15);
    expect(fit.value.animals[0]!.parameters[0]!.unit).toBe("g");
  });

  it("is plain data, and every notice has a sentence", () => {
    expect(JSON.parse(JSON.stringify(fit))).toEqual(fit);
    const prediction = predictForNewAnimal(fit, { ages: [], masses: [] }, { at: [80] });
    for (const n of [...fit.notices, ...prediction.notices]) {
      expect(noticeText(n)).not.toContain("?");
    }
    expect(prediction.notices.map((n) => n.code)).toContain("cohort-beyond-ages");
  });

  it("counts every weighing as used or left out", () => {
    const histories = cohort(2, 6);
    const broken = [
      ...histories,
      { animal: "x", ages: [1, 2, Number.NaN], masses: [5000, -1, 6000], covariates: {} },
    ];
    const result = fitCohort(broken, { ...options, covariates: { A: ["season"] } });
    const rows = broken.reduce((s, h) => s + h.ages.length, 0);
    const out = result.basis.leftOut.reduce((s, l) => s + l.count, 0);
    expect(result.basis.used + out).toBe(rows);
    expect(result.basis.leftOut.map((l) => l.count)).toEqual([2, 1]);
  });

  it("follows a change of the mass unit", () => {
    const kg = fitCohort(
      cohort(1, 15).map((h) => ({ ...h, masses: h.masses.map((m) => m / 1000) })),
      { ...options, massUnit: "kg" },
    );
    expect(kg.value.parameters[0]!.typical.value! * 1000).toBeCloseTo(
      fit.value.parameters[0]!.typical.value!,
      1,
    );
    expect(kg.value.parameters[0]!.typical.unit).toBe("kg");
  });

  it("estimates what a covariate does, and asks for it when predicting", () => {
    const two = fitCohort(cohort(3, 30, 6000), { ...options, covariates: { A: ["season"] } });
    const [effect] = two.value.parameters[0]!.effects;
    expect(effect!.level).toBe("two");
    expect(Math.abs(effect!.effect.value! - 6000)).toBeLessThan(4 * effect!.effect.se!);
    expect(() => predictForNewAnimal(two, { ages: [], masses: [] }, { at: [40] })).toThrow(
      /season/,
    );
    const at = (season: string) =>
      predictForNewAnimal(two, { ages: [], masses: [] }, { at: [45], covariates: { season } }).value
        .predictions[0]!.mass.value!;
    expect(at("two")).toBeGreaterThan(at("one") + 2000);
    expect(() => at("three")).toThrow(/one, two/);
  });

  it("steps down to what few animals can carry, and says so", () => {
    const expected = [
      [15, "general", 2, null],
      [4, "diagonal", 2, "cohort-simplified-few-animals"],
      [3, null, 1, "cohort-simplified-few-animals"],
    ] as const;
    for (const [animals, covariance, random, code] of expected) {
      const result = fitCohort(cohort(4, animals), options);
      expect(result.value.status).toBe("converged");
      expect(result.value.model!.random).toHaveLength(random);
      if (covariance !== null) expect(result.value.model!.covariance).toBe(covariance);
      const codes = result.notices.map((n) => n.code);
      if (code === null) expect(codes).not.toContain("cohort-simplified-few-animals");
      else expect(codes).toContain(code);
    }
    const none = fitCohort(cohort(4, 2), options);
    expect(none.value.status).toBe("too-few-animals");
    expect(none.notices[0]!.code).toBe("cohort-too-few-animals");
    expect(() => followNewAnimal(none)).toThrow(/too-few-animals/);
    expect(fitCohort([], options).value.status).toBe("too-few-animals");
  });

  it("chooses mass and time to differ between animals when not told", () => {
    expect(defaultRandom(curveByName("logistic"))).toEqual(["A", "Ti"]);
    expect(() => fitCohort(cohort(1, 5), { ...options, random: ["Q"] })).toThrow(/"Q"/);
  });
});

describe("a curve of the wrong shape", () => {
  /** Invented Gompertz animals, to which a logistic curve is fitted. */
  const wrong = (seed: number): AnimalHistory[] => {
    const random = seededRandom(seed);
    return cohort(seed, 15).map((h) => {
      const a = 30_000 + 3000 * random.normal();
      const ti = 20 + 4 * random.normal();
      return {
        ...h,
        masses: h.ages.map(
          (age) => a * Math.exp(-Math.exp(-0.07 * (age - ti))) + 400 * random.normal(),
        ),
      };
    });
  };
  const code = "cohort-residuals-hang-together";

  it("is noticed by residuals that hang together; the right one is not accused", () => {
    for (let seed = 101; seed <= 110; seed++) {
      expect(fitCohort(wrong(seed), options).notices.map((n) => n.code)).toContain(code);
      expect(fitCohort(cohort(seed, 15), options).notices.map((n) => n.code)).not.toContain(code);
    }
    const serial = fitCohort(wrong(101), { ...options, serial: true });
    expect(serial.value.serialCorrelation).toBeGreaterThan(0.3);
    expect(serial.notices.map((n) => n.code)).not.toContain(code);
  });
});

describe("a new animal", () => {
  const fit = fitCohort(cohort(1, 15), options);

  it("is the typical one at first, then itself", () => {
    const masses = [3, 6, 10, 15, 20].map((age) => massAt(age, 36_000, 0.1, 20));
    const widths = [0, 1, 3, 5].map((count) => {
      const p = predictForNewAnimal(
        fit,
        { ages: [3, 6, 10, 15, 20].slice(0, count), masses: masses.slice(0, count) },
        { at: [27] },
      ).value.predictions[0]!;
      return p.mass.interval!.upper! - p.mass.interval!.lower!;
    });
    for (let i = 1; i < widths.length; i++) expect(widths[i]).toBeLessThan(widths[i - 1]!);
    const last = predictForNewAnimal(fit, { ages: [3, 6, 10, 15, 20], masses }, { at: [27] });
    const { mass } = last.value.predictions[0]!;
    expect(Math.abs(mass.value! - massAt(27, 36_000, 0.1, 20))).toBeLessThan(3 * mass.se!);
    expect(last.value.weighings).toBe(5);
  });

  it("has a gain that is the slope of its curve", () => {
    const p = predictForNewAnimal(fit, { ages: [], masses: [] }, { at: [24.5, 25, 25.5] }).value;
    const rise = p.predictions[2]!.mass.value! - p.predictions[0]!.mass.value!;
    expect(p.predictions[1]!.gain.value).toBeCloseTo(rise, 6);
    expect(p.predictions[1]!.gain.unit).toBe("g/d");
  });

  it("keeps population, this animal, true mass and next reading apart", () => {
    const weighings = { ages: [5], masses: [6000] };
    const ask = (o: object) => predictForNewAnimal(fit, weighings, { at: [12], ...o }).value;
    const own = ask({});
    const reading = ask({ intervalFor: "next reading" });
    const population = ask({ of: "population" });
    expect(own.intervalFor).toBe("true mass");
    expect(reading.predictions[0]!.mass.se!).toBeGreaterThan(own.predictions[0]!.mass.se!);
    expect(population.of).toBe("population");
    expect(population.predictions[0]!.mass.value).not.toBe(own.predictions[0]!.mass.value);
  });

  it("can be an animal of the cohort", () => {
    const p = predictForCohortAnimal(fit, "a3", { at: [20] });
    expect(p.value.weighings).toBe(fit.value.animals[3]!.ages.length);
    const at = fit.value.animals[3]!.ages.length - 1;
    const check = predictForCohortAnimal(fit, "a3", { at: [fit.value.animals[3]!.ages[at]!] });
    // The same shrunken curve as in the fit itself, to a tenth of its error.
    expect(
      Math.abs(check.value.predictions[0]!.mass.value! - fit.value.animals[3]!.fitted[at]!),
    ).toBeLessThan(0.3 * check.value.predictions[0]!.mass.se!);
    expect(() => predictForCohortAnimal(fit, "nobody", { at: [1] })).toThrow(/nobody/);
  });

  it("is followed weighing by weighing with the same answer", () => {
    const follower = followNewAnimal(fit);
    follower.weigh(3, 3000);
    follower.weigh(6, 4100);
    const direct = predictForNewAnimal(fit, { ages: [6, 3], masses: [4100, 3000] }, { at: [10] });
    expect(follower.expect(10).mass).toBeCloseTo(direct.value.predictions[0]!.mass.value!, 6);
    follower.reset();
    expect(follower.expect(10).mass).not.toBeCloseTo(direct.value.predictions[0]!.mass.value!, 0);
  });
});

describe("gains, bootstrap and calibration of a cohort", () => {
  const fit = fitCohort(cohort(1, 12), options);

  it("orders the animals' gains, with intervals around them", () => {
    const gains = cohortGains(fit, { from: 20, to: 30 }).value;
    const values = gains.animals.map((a) => a.gain.value!);
    expect(values).toEqual([...values].sort((a, b) => a - b));
    expect(gains.animals).toHaveLength(12);
    const mean = values.reduce((s, v) => s + v, 0) / 12;
    expect(Math.abs(mean - gains.typical.value!)).toBeLessThan(3 * gains.typical.se!);
  });

  it("bootstraps and calibrates with a seed", () => {
    const boot = bootstrapCohort(fit, { replicates: 20, seed: 3 });
    expect(boot.basis.used + (boot.basis.leftOut[0]?.count ?? 0)).toBe(20);
    const [a] = boot.value.parameters;
    expect(a!.typical.interval!.lower!).toBeLessThan(a!.typical.value!);
    expect(a!.typical.interval!.upper!).toBeGreaterThan(a!.typical.value!);
    const one = calibrateCohort(fit, { replicates: 10, seed: 3, counts: [0, 3] });
    const two = calibrateCohort(fit, { replicates: 10, seed: 3, counts: [0, 3] });
    expect(two).toEqual(one);
    const prediction = predictForNewAnimal(
      fit,
      { ages: [], masses: [] },
      { at: [10], multiplier: one.value.multipliers[0]!.multiplier },
    ).value.predictions[0]!.mass;
    const half = (prediction.interval!.upper! - prediction.interval!.lower!) / 2;
    expect(half / prediction.se!).toBeCloseTo(one.value.multipliers[0]!.multiplier, 9);
  });
});

describe("coverage for a new animal's mass a week ahead", () => {
  it("lies within 5 standard errors of simulation of the nominal 95 %", () => {
    // The smaller sibling of the bench: 200 cohorts of 15, seeds 50001 to 50200.
    const counts = [0, 1, 3, 7];
    const held = counts.map(() => 0);
    const cohorts = 200;
    for (let r = 1; r <= cohorts; r++) {
      const fit = fitCohort(cohort(50_000 + r, 15), options);
      expect(fit.value.status).toBe("converged");
      const follower = followNewAnimal(fit);
      const random = seededRandom(60_000 + r);
      const a = 30_000 + 3000 * random.normal();
      const ti = 25 + 4 * random.normal();
      let age = 0;
      counts.forEach((count, c) => {
        while (age < count) {
          age++;
          follower.weigh(age, massAt(age, a, 0.1, ti) + 400 * random.normal());
        }
        const p = follower.expect(age + 7);
        const truth = massAt(age + 7, a, 0.1, ti);
        if (truth >= p.lower && truth <= p.upper) held[c]!++;
      });
    }
    for (const h of held)
      expect(Math.abs(h / cohorts - 0.95)).toBeLessThan(5 * Math.sqrt(0.0475 / cohorts));
  });
});
