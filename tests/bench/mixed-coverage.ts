import { writeFileSync } from "node:fs";
import { cpus } from "node:os";
import { fileURLToPath } from "node:url";
import { type Random, seededRandom } from "../../src/core/random.js";
import type { AnimalHistory } from "../../src/growth/cohort/animal-history.js";
import { calibrateCohort } from "../../src/growth/cohort/calibrate-cohort.js";
import { fitCohort } from "../../src/growth/cohort/fit-cohort.js";
import { followNewAnimal } from "../../src/growth/cohort/predict-new-animal.js";

/**
 * Coverage of 95 % intervals for a new animal's mass a week ahead, after 0, 1, 3
 * and 7 daily weighings, over seeded invented cohorts. One new animal per cohort,
 * so that cohorts are independent. Interval for the true mass and, beside it, for
 * the next scale reading. Arguments: number of cohorts (default 5000).
 *
 * Scenarios: cohorts of 15, 40 and 8 under the true curve; of 15 where the truth
 * is a Gompertz curve and a logistic is fitted; of 15 with scatter growing with
 * mass, modelled so (a fifth of the cohorts); of 8 with multipliers calibrated by
 * bootstrap (a twentieth). Seeds were written down before the first run and not changed.
 */
const cohorts = Number(process.argv[2] ?? 5000);
const only = process.argv[3];
const counts = [0, 1, 3, 7];
const baseSeed = 20261125;

interface Scenario {
  readonly name: string;
  readonly animals: number;
  readonly truth: "logistic" | "gompertz";
  readonly power?: boolean;
  readonly serial?: boolean;
  readonly calibrated?: boolean;
  readonly cohorts: number;
}
const scenarios: Scenario[] = [
  { name: "15 animals", animals: 15, truth: "logistic", cohorts },
  { name: "40 animals", animals: 40, truth: "logistic", cohorts },
  { name: "8 animals", animals: 8, truth: "logistic", cohorts },
  { name: "15 animals, wrong curve", animals: 15, truth: "gompertz", cohorts },
  {
    name: "15 animals, scatter grows with mass",
    animals: 15,
    truth: "logistic",
    power: true,
    cohorts: Math.ceil(cohorts / 5),
  },
  {
    name: "15 animals, wrong curve, neighbouring residuals hang together",
    animals: 15,
    truth: "gompertz",
    serial: true,
    cohorts: Math.ceil(cohorts / 5),
  },
  {
    name: "8 animals, calibrated multipliers",
    animals: 8,
    truth: "logistic",
    calibrated: true,
    cohorts: Math.ceil(cohorts / 20),
  },
];

type Curve = (age: number) => number;

function drawAnimal(s: Scenario, random: Random): Curve {
  const z = random.normal();
  const a = 30_000 + 3000 * z;
  const ti = 25 + 4 * (0.3 * z + Math.sqrt(0.91) * random.normal());
  return s.truth === "logistic"
    ? (age) => a / (1 + Math.exp(-0.1 * (age - ti)))
    : (age) => a * Math.exp(-Math.exp(-0.07 * (age - ti + 5)));
}

const scatter = (s: Scenario, mass: number) => (s.power ? 0.03 * mass : 400);

function drawCohort(s: Scenario, random: Random): AnimalHistory[] {
  return Array.from({ length: s.animals }, (_, i) => {
    const curve = drawAnimal(s, random);
    const ages: number[] = [];
    const masses: number[] = [];
    for (let age = random.below(4); age < 50; age += 1 + random.below(5)) {
      ages.push(age);
      masses.push(Math.max(1, curve(age) + scatter(s, curve(age)) * random.normal()));
    }
    return { animal: `a${i}`, ages, masses };
  });
}

const results = scenarios
  .filter((s) => only === undefined || s.name.includes(only))
  .map((s) => {
    const from = performance.now();
    const mass = counts.map(() => 0);
    const reading = counts.map(() => 0);
    const width = counts.map(() => 0);
    let failed = 0;
    let simplified = 0;
    let n = 0;
    for (let r = 0; r < s.cohorts; r++) {
      const random = seededRandom(baseSeed).split(r * 10 + scenarios.indexOf(s));
      const fit = fitCohort(drawCohort(s, random), {
        curve: "logistic",
        random: ["A", "Ti"],
        variance: s.power ? "power" : "constant",
        serial: s.serial ?? false,
      });
      const curve = drawAnimal(s, random);
      if (!fit.value.converged) {
        failed++;
        continue;
      }
      if (fit.notices.some((each) => each.code.startsWith("cohort-simplified"))) simplified++;
      n++;
      const multipliers = s.calibrated
        ? calibrateCohort(fit, { replicates: 100, seed: r, first: 1 }).value.multipliers
        : null;
      const follower = followNewAnimal(fit);
      let age = 0;
      counts.forEach((count, c) => {
        while (age < count) {
          age++;
          follower.weigh(age, curve(age) + scatter(s, curve(age)) * random.normal());
        }
        const at = (count === 0 ? 1 : age) + 7;
        const truth = curve(at);
        const p = follower.expect(at);
        const m = multipliers?.[c]?.multiplier;
        const lower = m === undefined ? p.lower : p.mass - m * p.se;
        const upper = m === undefined ? p.upper : p.mass + m * p.se;
        if (truth >= lower && truth <= upper) mass[c]!++;
        width[c]! += upper - lower;
        const next = follower.expect(at, { intervalFor: "next reading" });
        const seen = truth + scatter(s, truth) * random.normal();
        if (seen >= next.lower && seen <= next.upper) reading[c]!++;
      });
    }
    const share = (v: number[]) => v.map((h) => Math.round((10_000 * h) / n) / 100);
    const row = {
      scenario: s.name,
      cohorts: n,
      notConverged: failed,
      simplified,
      weighings: counts,
      trueMassPercent: share(mass),
      nextReadingPercent: share(reading),
      meanWidthG: width.map((w) => Math.round(w / n)),
      simulationErrorPercent: Math.round(10_000 * Math.sqrt((0.95 * 0.05) / n)) / 100,
      seconds: Math.round((performance.now() - from) / 100) / 10,
    };
    console.log(JSON.stringify(row));
    return row;
  });
if (only === undefined) {
  writeFileSync(
    fileURLToPath(new URL("results/mixed-coverage.json", import.meta.url)),
    `${JSON.stringify(
      {
        bench: "mixed-coverage",
        date: new Date().toISOString().slice(0, 10),
        machine: `${cpus()[0]?.model ?? "?"}, ${cpus().length} cores, Node ${process.version}`,
        seed: baseSeed,
        what: "coverage of nominal 95 % intervals for a new animal's mass 7 days ahead",
        rows: results,
      },
      null,
      2,
    )}\n`,
  );
}
