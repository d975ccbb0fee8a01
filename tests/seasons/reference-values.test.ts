import { describe, expect, it } from "vitest";
import { fitAdjustedModel } from "../../src/seasons/adjusted-model.js";
import { comparePair } from "../../src/seasons/compare-pair.js";
import { fitSeasonCurves } from "../../src/seasons/fit-season-curves.js";
import { mixedDifferences } from "../../src/seasons/mixed-difference.js";
import type { SeasonGain } from "../../src/seasons/season-gain.js";
import { slopeCheck } from "../../src/seasons/slope-check.js";
import { unadjustedDifference } from "../../src/seasons/unadjusted-difference.js";
import { anorexia } from "../truth/anorexia/weights.js";
import { readReference, readReferenceText } from "../truth/reference-folder.js";

type Rows = Readonly<Record<string, number>>;
interface Cases {
  readonly cases: readonly { readonly id: string; readonly output: Record<string, unknown> }[];
}

/**
 * Against R 4.2.2 (lm, emmeans, lme4 with pbkrtest, t.test), where the reference
 * folder exists, by the functions that a comparison of seasons calls. The 50 chicks of Crowder and Hand (1990) stand in for animals and
 * their diets for seasons.
 */
describe("against R on the chicks", () => {
  const rows = () =>
    readReferenceText("data/ChickWeight.csv")
      .trim()
      .split("\n")
      .slice(1)
      .map((line) => line.replaceAll('"', "").split(","));
  const header = () =>
    readReferenceText("data/ChickWeight.csv").split("\n")[0]!.replaceAll('"', "").split(",");

  function chicks(all = false): SeasonGain[] {
    const names = header();
    const at = (row: readonly string[], name: string) => row[names.indexOf(name)]!;
    const by = new Map<string, string[][]>();
    for (const row of rows()) by.set(at(row, "Chick"), [...(by.get(at(row, "Chick")) ?? []), row]);
    return [...by].flatMap(([id, own]) => {
      const weight = (time: string) => own.find((r) => at(r, "Time") === time);
      const first = weight("0");
      const last = weight("20");
      if (first === undefined || (last === undefined && !all)) return [];
      return [
        {
          animalId: id,
          season: at(first, "Diet"),
          sex: "unknown" as const,
          gain: last === undefined ? 0 : Number(at(last, "weight")),
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

  it("the mixed view is lme4's random-slope model with Kenward-Roger's errors and freedom (lmm.json)", () => {
    const animals = chicks(true);
    expect(animals).toHaveLength(50);
    const diets = ["1", "2", "3", "4"];
    const model = fitAdjustedModel(animals, diets, [])!;
    const pairs = ["2", "3", "4"].map((d) => ["1", d] as const);
    // weight ~ Time * Diet + (Time | Chick): no common curvature there.
    const found = mixedDifferences(animals, model, pairs, 0.95, false)!;
    const { satterthwaite_kenward_roger: r } = readReference<{
      satterthwaite_kenward_roger: { chick: { kenward_roger: Record<string, Rows> } };
    }>("values/lmm.json");
    const kr = r.chick.kenward_roger;
    const lme = readReference<Cases>("values/lmm.json").cases.find(
      (c) => c.id === "lme-chick-time-diet-slope-REML",
    )!.output as { fixed: Rows; sigma: number; random: { Chick: { sd: Rows } } };
    expect(found.status).toBe("converged");
    expect(found.dfMethod).toBe("kenward-roger");
    found.pairs.forEach((pair) => {
      const name = `Time:Diet${pair.to}`;
      const close = (got: number, wanted: number, tolerance: number) =>
        expect(Math.abs(got / wanted - 1), name).toBeLessThan(tolerance);
      close(pair.difference, lme.fixed[name]!, 1e-6);
      close(pair.se, kr["Std. Error"]![name]!, 1e-5);
      close(pair.df, kr["df"]![name]!, 1e-3);
      close(pair.p, kr["Pr(>|t|)"]![name]!, 1e-3);
    });
    expect(Math.abs(found.daySd / lme.sigma - 1)).toBeLessThan(1e-5);
    expect(Math.abs(found.gainSd / lme.random.Chick.sd["Time"]! - 1)).toBeLessThan(1e-5);
  });

  it("the F of unequal slopes is R's on the anorexia weights (1e-9)", () => {
    const animals = anorexia.map((a, i) => gainOf(String(i), a.therapy, a.after, 1000 * a.before));
    const therapies = ["CBT", "Cont", "FT"];
    const model = fitAdjustedModel(animals, therapies, ["arrival mass"])!;
    const check = slopeCheck(animals, therapies, model)!;
    const r = readReference<Cases>("values/tests_ancova.json").cases.find(
      (c) => c.id === "ancova-anorexia-int",
    )!.output as { coef: Rows; type2: { "F value": number[]; "Pr(>F)": number[]; Df: number[] } };
    expect([check.df1, check.df2]).toEqual([r.type2.Df[2], r.type2.Df[3]]);
    expect(check.f).toBeCloseTo(r.type2["F value"][2]!, 9);
    expect(check.p).toBeCloseTo(r.type2["Pr(>F)"][2]!, 9);
    const slope = (name: string) => check.slopes.find((x) => x.season === name)!.perKg!;
    const base = r.coef["Prewt"]!;
    expect(slope("CBT")).toBeCloseTo(base, 9);
    expect(slope("Cont")).toBeCloseTo(base + r.coef["Prewt:TreatCont"]!, 9);
    expect(slope("FT")).toBeCloseTo(base + r.coef["Prewt:TreatFT"]!, 9);
  });

  it("Welch and Hedges' g without adjustment are R's (1e-9)", () => {
    const of = (id: string) =>
      readReference<Cases>("values/tests_ancova.json").cases.find((c) => c.id === id)!
        .output as Readonly<Record<string, number | readonly number[]>>;
    const number = (x: unknown) => x as number;
    const at20 = (diet: string) =>
      chicks()
        .filter((c) => c.season === diet)
        .map((c) => c.gain);
    const hedges = of("hedges-chick20");
    const plain = unadjustedDifference(at20("1"), at20("2"))!;
    expect([at20("1").length, at20("2").length]).toEqual(hedges["n"]);
    // There the first group less the second, here the second less the first.
    expect(-plain.hedgesG!).toBeCloseTo(number(hedges["g_exact"]), 9);

    const at21 = (diet: string) =>
      rows()
        .filter((r) => r[header().indexOf("Time")] === "21" && r[header().indexOf("Diet")] === diet)
        .map((r) => Number(r[header().indexOf("weight")]));
    const welch = of("welch-chick21-d1-d3");
    const found = unadjustedDifference(at21("1"), at21("3"))!;
    const conf = welch["conf"] as readonly number[];
    expect(found.difference / found.se).toBeCloseTo(number(welch["statistic"]), 9);
    expect(found.df).toBeCloseTo(number(welch["parameter"]), 9);
    expect(found.p).toBeCloseTo(number(welch["p"]), 9);
    expect(found.interval.lower).toBeCloseTo(conf[0]!, 8);
    expect(found.interval.upper).toBeCloseTo(conf[1]!, 8);
  });

  it("the curves by season are nlme's on ln mass, cubic in age (R 4.2.2, nlme 3.1-162)", () => {
    const animals = chicks(true);
    const model = fitAdjustedModel(animals, ["1", "2", "3", "4"], [])!;
    const fit = fitSeasonCurves(animals, model, { fromAgeD: 0, toAgeD: 21 }, 7, 0.95)!;
    expect(fit.status).toBe("converged");
    // lme(log(weight) ~ Diet/(Time + I(Time^2) + I(Time^3)), random = ~Time | Chick), REML.
    expect(Math.abs(fit.sigma / 0.0688911376491 - 1)).toBeLessThan(1e-5);
    const wanted = [
      [40.8350665371, 71.3150641376, 114.450249103, 147.845988615],
      [40.0451045098, 81.8351656826, 140.592424768, 199.077961533],
      [40.5697366148, 86.3157346658, 166.122715059, 262.578831146],
      [40.0218232935, 93.330693764, 165.333168012, 226.257124009],
    ];
    fit.curves.forEach((curve, d) => {
      curve.points.forEach((p, i) => {
        expect(Math.abs(p.massG / wanted[d]![i]! - 1)).toBeLessThan(1e-6);
      });
    });
    const third = fit.differences.find((x) => x.from === "1" && x.to === "3")!;
    expect(third.points[3]!.percent).toBeCloseTo(77.6029458797, 3);
    // Kenward and Roger's error is the model's own (0.153598) made a little larger.
    const half =
      Math.log(1 + third.points[3]!.interval.upper! / 100) - Math.log(1 + 0.776029458797);
    expect(half / 0.153598162981).toBeGreaterThan(1.96);
    expect(half / 0.153598162981).toBeLessThan(2.1);
  });
});

const gainOf = (
  animalId: string,
  season: string,
  gain: number,
  arrivalMassG: number,
): SeasonGain => ({
  animalId,
  season,
  sex: "unknown",
  gain,
  se: null,
  weighings: 2,
  arrivalMassG,
  arrivalAgeD: 0,
  days: [],
});
