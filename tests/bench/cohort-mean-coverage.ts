/**
 * Coverage of the 95 % interval of a cohort's averaged curve (mass at two ages,
 * mean gain between two), over seeded invented cohorts of 6, 12 and 30 Gompertz
 * animals, and the same for the typical animal's interval held against the
 * average: how often the wrong curve's interval holds the mean. Argument: number
 * of cohorts (default 2000). Seed written down before the first run.
 */
import { seededRandom } from "../../src/core/random.js";
import type { AnimalHistory } from "../../src/growth/cohort/animal-history.js";
import { cohortGains } from "../../src/growth/cohort/cohort-gains.js";
import { cohortMeanCurve } from "../../src/growth/cohort/cohort-mean-curve.js";
import { fitCohort } from "../../src/growth/cohort/fit-cohort.js";
import { gaussHermite } from "../../src/stats/numeric/gauss-hermite.js";
import { record } from "./curves-record.js";

const cohorts = Number(process.argv[2] ?? 2000);
const seed = 20261126;
const [from, to] = [20, 60];

const gompertz = (age: number, a: number, ti: number) =>
  a * Math.exp(-Math.exp(-0.05 * (age - ti)));

/** Final mass 10 kg (sd 1.2), inflection at 40 d (sd 10), weighed 25 times, errors of sd 80 g. */
function drawCohort(animals: number, key: number): AnimalHistory[] {
  const random = seededRandom(seed).split(key);
  return Array.from({ length: animals }, (_, i) => {
    const a = 10_000 + 1200 * random.normal();
    const ti = 40 + 10 * random.normal();
    const ages = Array.from({ length: 25 }, (_, d) => 4 * d + random.below(4));
    const masses = ages.map((age) => gompertz(age, a, ti) + 80 * random.normal());
    return { animal: `a${i}`, ages, masses };
  });
}

// The true averages: the final mass enters as a factor, so only the age is integrated over.
const rule = gaussHermite(61);
const meanMass = (age: number) =>
  rule.nodes.reduce(
    (sum, node, i) =>
      sum +
      (rule.weights[i]! / Math.sqrt(Math.PI)) * gompertz(age, 10_000, 40 + Math.SQRT2 * 10 * node),
    0,
  );
const truth = [meanMass(40), meanMass(80), (meanMass(to) - meanMass(from)) / (to - from)];
const typicalGain = (gompertz(to, 10_000, 40) - gompertz(from, 10_000, 40)) / (to - from);

const rows = [6, 12, 30].map((animals, size) => {
  const held = [0, 0, 0];
  const bias = [0, 0, 0];
  let typicalHeld = 0;
  let n = 0;
  for (let r = 0; r < cohorts; r++) {
    const fit = fitCohort(drawCohort(animals, 10 * r + size), {
      curve: "gompertz",
      random: ["A", "Ti"],
    });
    if (!fit.value.converged) continue;
    n++;
    const { ages, gainOver } = cohortMeanCurve(fit, { at: [40, 80], from, to, draws: 10 }).value;
    [...ages.map((each) => each.mass), gainOver.gain].forEach(({ average }, i) => {
      const { lower, upper } = average.interval!;
      if (truth[i]! >= lower! && truth[i]! <= upper!) held[i]!++;
      bias[i]! += average.value! / truth[i]! - 1;
    });
    const { lower, upper } = cohortGains(fit, { from, to }).value.typical.interval!;
    if (truth[2]! >= lower! && truth[2]! <= upper!) typicalHeld++;
  }
  const percent = (h: number) => Number(((100 * h) / n).toFixed(2));
  const row = {
    animals,
    cohorts: n,
    notConverged: cohorts - n,
    massAt40Percent: percent(held[0]!),
    massAt80Percent: percent(held[1]!),
    meanGainPercent: percent(held[2]!),
    biasPercent: bias.map((b) => Number(((100 * b) / n).toFixed(2))),
    typicalGainOverMeanGain: Number((typicalGain / truth[2]!).toFixed(3)),
    typicalIntervalHoldsMeanGainPercent: percent(typicalHeld),
    simulationErrorPercent: Number((100 * Math.sqrt((0.95 * 0.05) / n)).toFixed(2)),
  };
  console.log(JSON.stringify(row));
  return row;
});
record("cohort-mean-coverage", { seed, cohorts, level: 0.95 }, rows);
