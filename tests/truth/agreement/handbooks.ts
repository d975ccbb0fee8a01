import { fitCurve } from "../../../src/growth/fit-curve.js";
import { puppyGrowthEnergy, restingEnergy } from "../../../src/rates/nutrition-formulas.js";
import { studentTQuantile } from "../../../src/stats/distributions/student-t.js";
import { ratioSet } from "../../../src/stats/hypothesis-tests/ratio-set.js";
import { logRankTest } from "../../../src/stats/survival/log-rank-test.js";
import { remissions } from "../leukaemia/remissions.js";
import { type Comparison, comparisonsOf } from "./comparison.js";

/** Printed examples; as many digits can agree as were printed. */
export function handbooks(): Comparison[] {
  const { all, add } = comparisonsOf("Handbooks and papers");
  add(
    "Small Animal Clinical Nutrition, 5th ed., table 5-2",
    "resting energy of 15 kg, kcal/d",
    533.54,
    restingEnergy(15),
  );
  add("NRC 2006", "growth of a dog, 10 of 20 kg, kcal/d", 1280.238, puppyGrowthEnergy(10, 20));
  add(
    "Freireich and others (1963), as printed since",
    "log-rank chi-squared",
    16.79,
    logRankTest(
      { time: remissions.map((r) => r.weeks), event: remissions.map((r) => r.relapsed) },
      remissions.map((r) => r.arm),
    ).chiSquared,
  );
  const set = ratioSet(
    { numerator: 5600, denominator: 560, numeratorVariance: 112, denominatorVariance: 625 },
    studentTQuantile(0.975, 13),
  );
  const fieller = "Fieller's limits, by inverting the t test (R 4.2.2, uniroot)";
  add(fieller, "lower", 9.11952050737099, set.kind === "bounded" ? set.lower : null);
  add(fieller, "upper", 11.0682590244825, set.kind === "bounded" ? set.upper : null);
  const pasture = fitCurve(
    {
      ages: [9, 14, 21, 28, 42, 57, 63, 70, 79],
      masses: [8.93, 10.8, 18.59, 22.33, 39.35, 56.11, 61.73, 64.62, 67.08],
    },
    { curve: "logistic" },
  ).value.estimates[0]!.estimate;
  const rat42 = "Ratkowsky (1983), pasture yield, certified by NIST as Rat42";
  add(rat42, "final yield", 72.462237576, pasture.value);
  add(rat42, "its standard error", 1.7340283401, pasture.se);
  return all;
}
