import { describe, expect, it } from "vitest";
import { seededRandom } from "../../src/core/random.js";
import { cohortGains } from "../../src/growth/cohort/cohort-gains.js";
import { cohortMeanCurve } from "../../src/growth/cohort/cohort-mean-curve.js";
import { fitCohort } from "../../src/growth/cohort/fit-cohort.js";
import {
  cohortAveragePicture,
  cohortGainsPicture,
} from "../../src/report/seasons/cohort-pictures.js";
import { cohortAverageTable } from "../../src/report/seasons/cohort-tables.js";
import { blockText } from "../../src/report/section/plain-text.js";

describe("the averaged curve in table and picture", () => {
  const random = seededRandom(7107);
  const histories = Array.from({ length: 8 }, (_, i) => {
    const level = 2000 + 150 * random.normal();
    const ages = Array.from({ length: 12 }, (_, d) => 3 * d);
    const masses = ages.map((t) => level + 50 * t + 30 * random.normal());
    return { animal: `a${i}`, ages, masses };
  });
  const fit = fitCohort(histories, { curve: "linear", random: ["W0"] });
  const range = { from: 5, to: 25 };
  const mean = cohortMeanCurve(fit, { at: [5, 25], ...range });

  it("has two rows an age and one for the mean gain, every cell filled", () => {
    const table = cohortAverageTable(mean);
    expect(table.rows).toHaveLength(5);
    expect(table.rows.every((row) => row.length === table.columns.length)).toBe(true);
    expect(blockText(table)).toMatch(/10th centile/);
    expect(blockText(table)).not.toMatch(/undefined|NaN|\[object/);
  });

  it("says which line is dashed and what each band is", () => {
    const gains = cohortGains(fit, range);
    expect(cohortGainsPicture(gains, mean).caption).toMatch(/average of the fitted cohort/);
    expect(cohortGainsPicture(gains).caption).toMatch(/typical animal/);
    expect(cohortAveragePicture(mean, "gain").caption).toMatch(/80 % of animals/);
  });
});
