import { describe, expect, it } from "vitest";
import { fitAdjustedModel } from "../../src/seasons/adjusted-model.js";
import { comparePair } from "../../src/seasons/compare-pair.js";
import { mixedDifferences } from "../../src/seasons/mixed-difference.js";
import type { SeasonGain } from "../../src/seasons/season-gain.js";
import { readReference, readReferenceText, referenceFolder } from "../truth/reference-folder.js";

interface Cases {
  readonly cases: readonly { readonly id: string; readonly output: Record<string, unknown> }[];
}

/**
 * Against R 4.2.2 (lm, emmeans, lme4 with pbkrtest), where the reference folder
 * exists. The 50 chicks of Crowder and Hand (1990) stand in for animals and
 * their diets for seasons.
 */
describe.skipIf(referenceFolder === null)("against R on the chicks", () => {
  const rows = () =>
    readReferenceText("data/ChickWeight.csv")
      .trim()
      .split("\n")
      .slice(1)
      .map((line) => line.replaceAll('"', "").split(","));
  const header = () =>
    readReferenceText("data/ChickWeight.csv").split("\n")[0]!.replaceAll('"', "").split(",");

  function chicks(): SeasonGain[] {
    const names = header();
    const at = (row: readonly string[], name: string) => row[names.indexOf(name)]!;
    const by = new Map<string, string[][]>();
    for (const row of rows()) by.set(at(row, "Chick"), [...(by.get(at(row, "Chick")) ?? []), row]);
    return [...by].flatMap(([id, own]) => {
      const weight = (time: string) => own.find((r) => at(r, "Time") === time);
      const first = weight("0");
      const last = weight("20");
      if (first === undefined || last === undefined) return [];
      return [
        {
          animalId: id,
          season: at(first, "Diet"),
          sex: "unknown" as const,
          gain: Number(at(last, "weight")),
          se: null,
          weighings: own.length,
          arrivalMassG: 1000 * Number(at(first, "weight")),
          arrivalAgeD: 0,
          days: own.map((r) => ({ ageD: Number(at(r, "Time")), massG: Number(at(r, "weight")) })),
        },
      ];
    });
  }

  it("adjusted means, pairwise differences, Tukey and Holm are emmeans' (1e-9; Tukey 1e-6)", () => {
    const model = fitAdjustedModel(chicks(), ["1", "2", "3", "4"], ["arrival mass"])!;
    const found = readReference<Cases>("values/tests_ancova.json").cases.find(
      (c) => c.id === "ancova-chick-w20-adjusted-means",
    )!.output as {
      means: { emmean: number[]; SE: number[] };
      pairs_tukey: { estimate: number[]; SE: number[]; "p.value": number[] };
      pairs_holm: number[];
    };
    model.adjustedMeans.forEach((m, i) => {
      expect(m).toBeCloseTo(found.means.emmean[i]!, 9);
      expect(model.residualSd * Math.sqrt(model.unscaled[i]![i]!)).toBeCloseTo(
        found.means.SE[i]!,
        9,
      );
    });
    const pairs = [
      ["1", "2"],
      ["1", "3"],
      ["1", "4"],
      ["2", "3"],
      ["2", "4"],
      ["3", "4"],
    ] as const;
    pairs.forEach(([from, to], i) => {
      const pair = comparePair(model, [], chicks(), from, to, { runs: 0 }).decide(1, 6);
      expect(pair.difference.value).toBeCloseTo(-found.pairs_tukey.estimate[i]!, 9);
      expect(pair.difference.se).toBeCloseTo(found.pairs_tukey.SE[i]!, 9);
      expect(Math.abs(pair.tukeyP! - found.pairs_tukey["p.value"][i]!)).toBeLessThan(1e-6);
    });
  });

  it("the mixed view agrees with the model on animals where all are weighed alike", () => {
    // Complete chicks, equal days: the slope contrast of a random-slope model is the contrast of
    // each animal's own regression slopes (balanced data, textbook identity).
    const full = chicks().filter((c) => c.days.length === 12);
    const slope = (c: SeasonGain) => {
      const n = c.days.length;
      const mx = c.days.reduce((s, d) => s + d.ageD, 0) / n;
      const my = c.days.reduce((s, d) => s + d.massG, 0) / n;
      const sxx = c.days.reduce((s, d) => s + (d.ageD - mx) ** 2, 0);
      return c.days.reduce((s, d) => s + (d.ageD - mx) * (d.massG - my), 0) / sxx;
    };
    const animals = full.map((c) => ({ ...c, gain: slope(c) }));
    const model = fitAdjustedModel(animals, ["1", "2", "3", "4"], ["arrival mass"])!;
    const mixed = mixedDifferences(animals, model, [["1", "3"]])!;
    expect(mixed.status).toBe("converged");
    expect(mixed.dfMethod).toBe("kenward-roger");
    const i = (s: string) => model.adjustedMeans[Number(s) - 1]!;
    expect(mixed.pairs[0]!.difference).toBeCloseTo(i("3") - i("1"), 5);
    expect(mixed.pairs[0]!.df).toBeCloseTo(model.df, 1);
  });
});
