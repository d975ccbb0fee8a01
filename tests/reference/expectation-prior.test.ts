import { describe, expect, it } from "vitest";
import {
  expectationPrior,
  gainKnotsD,
  summaryOfHouse,
} from "../../src/reference/expectation-prior.js";
import type { PopulationSummary } from "../../src/reference/population-summary.js";

const k = gainKnotsD.length;
const weak = { gain: 0.01 };

/** A summary that knows the gain at every age to `se`, independently. */
function known(gain: number, se: number, animals = 10): PopulationSummary {
  const information = new Array<number>(k * k).fill(0);
  for (let i = 0; i < k; i++) information[i * k + i] = 1 / se ** 2;
  return {
    animals,
    seasons: 1,
    agesD: [...gainKnotsD],
    information,
    pulled: new Array<number>(k).fill(gain / se ** 2),
    variation: {
      noise: { logMean: Math.log(0.012), logSd: 0.2 },
      lasting: { mean: 0.4, sd: 0.2 },
      wander: { logMean: Math.log(0.1), logSd: 0.3 },
      spread: { logMean: Math.log(0.1), logSd: 0.3 },
    },
  };
}

/** Mean and standard deviation of one belief at an age in the middle, by Gaussian elimination. */
function at(belief: { precision: Float64Array; pulled: Float64Array }, age: number) {
  const solve = (b: readonly number[]) => {
    const m = Array.from({ length: k }, (_, i) => [
      ...belief.precision.subarray(i * k, (i + 1) * k),
      b[i]!,
    ]);
    for (let i = 0; i < k; i++)
      for (let r = 0; r < k; r++) {
        if (r === i) continue;
        const f = m[r]![i]! / m[i]![i]!;
        for (let c = i; c <= k; c++) m[r]![c]! -= f * m[i]![c]!;
      }
    return m.map((row, i) => row[k]! / row[i]!);
  };
  const i = gainKnotsD.indexOf(age);
  const unit = gainKnotsD.map((_, j) => (j === i ? 1 : 0));
  return { mean: solve([...belief.pulled])[i]!, sd: Math.sqrt(solve(unit)[i]!) };
}

describe("what is expected of a season before its first weighing", () => {
  it("is the species alone where nothing else is known, and says that nothing was borrowed", () => {
    const { prior, borrowed } = expectationPrior(weak, [], []);
    expect(prior.beliefs).toHaveLength(1);
    // As written in the first month, and from then on less by 0.8 % of itself a day.
    expect(at(prior.beliefs[0]!, 20).mean).toBeCloseTo(0.01, 9);
    expect(at(prior.beliefs[0]!, 70).mean).toBeCloseTo(0.01 * Math.exp(-0.32), 9);
    expect(borrowed.fromNurseries + borrowed.fromSeasons).toBe(0);
  });

  it("lies near what many nurseries agree on, no nearer than they differ, beside a vague belief", () => {
    const many = Array.from({ length: 24 }, (_, i) => known(0.014 + 0.0001 * (i % 5), 0.0003));
    const { prior, borrowed } = expectationPrior(weak, many, []);
    const informed = prior.beliefs[0]!;
    const vague = prior.beliefs[1]!;
    expect(at(informed, 35).mean).toBeCloseTo(0.0142, 3);
    // Even 24 that agree leave room for this one to differ: the spread shrinks towards 15 % only slowly.
    expect(at(informed, 35).sd / 0.0142).toBeGreaterThan(0.06);
    expect(at(informed, 35).sd).toBeLessThan(0.5 * at(vague, 35).sd);
    expect(informed.weight).toBeCloseTo(0.8, 9);
    expect(borrowed.nurseryAnimals).toBe(240);
    expect(borrowed.fromNurseries).toBeGreaterThan(0.2);
  });

  it("grows wider where nurseries disagree", () => {
    const agree = [0.014, 0.0141, 0.0139, 0.014].map((g) => known(g, 0.0003));
    const differ = [0.008, 0.02, 0.011, 0.017].map((g) => known(g, 0.0003));
    const sd = (all: readonly PopulationSummary[]) =>
      at(expectationPrior(weak, all, []).prior.beliefs[0]!, 35).sd;
    expect(sd(differ)).toBeGreaterThan(1.3 * sd(agree));
  });

  it("believes earlier seasons of the house over nurseries that were otherwise", () => {
    // Weights follow the normal densities: the seasons lie far outside what nurseries said.
    const nurseries = Array.from({ length: 12 }, () => known(0.02, 0.0002));
    const seasons = [known(0.009, 0.0003), known(0.0092, 0.0003)];
    const { prior, borrowed } = expectationPrior(weak, nurseries, seasons);
    const mean = prior.beliefs.reduce((s, b) => s + b.weight * at(b, 35).mean, 0);
    expect(Math.abs(mean - 0.0093)).toBeLessThan(0.0009);
    expect(prior.beliefs.at(-1)!.weight).toBeCloseTo(0.15, 6);
    expect(borrowed.fromSeasons).toBeGreaterThan(0.1);
  });

  it("sums seasons of a house to one summary that knows less than their sum: seasons differ", () => {
    const seasons = [known(0.0135, 0.0002), known(0.0145, 0.0002)];
    const house = summaryOfHouse(weak, seasons);
    expect(house.seasons).toBe(2);
    expect(house.animals).toBe(20);
    const i = 3 * k + 3;
    expect(house.information[i]!).toBeLessThan(seasons[0]!.information[i]!);
    expect(house.information[i]!).toBeGreaterThan(0);
  });
});
