import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  generalisedEsdTest,
  grubbsTest,
  hampelFilter,
  modifiedZScores,
} from "../../src/stats/hypothesis-tests/outlier-tests.js";
import { readReference, readReferenceText } from "../truth/reference-folder.js";

/** Tietjen and Moore (1972), as in NIST/SEMATECH e-Handbook 1.3.5.17.1. */
const grubbsData = [199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57];
/** Venus semi-diameters (Chauvenet; Tietjen and Moore 1972, NIST/SEMATECH e-Handbook). */
const venus = [
  -1.4, -0.44, -0.3, -0.24, -0.22, -0.13, -0.05, 0.06, 0.1, 0.18, 0.2, 0.39, 0.48, 0.63, 1.01,
];

describe("outliers (worked examples of the NIST/SEMATECH e-Handbook; critical values of scipy)", () => {
  it("Grubbs", () => {
    const two = grubbsTest(grubbsData)!;
    expect([two.index, two.beyond]).toEqual([7, true]);
    expect(two.statistic).toBeCloseTo(2.46876461121245, 12);
    expect(two.critical).toBeCloseTo(2.1266450871954667, 10);
    expect(grubbsTest(grubbsData, { sides: "upper" })!.critical).toBeCloseTo(2.031652001549949, 10);
    expect(grubbsTest(venus)!.critical).toBeCloseTo(2.54830777174334, 10);
  });

  it("methods disagree on Venus: the studentised deviate finds one, the modified z none", () => {
    expect(generalisedEsdTest(venus, 3).outliers).toEqual([0]);
    const z = modifiedZScores(venus);
    expect(z[0]).toBeCloseTo(-3.282567, 5);
    expect(z.every((v) => Math.abs(v!) <= 3.5)).toBe(true);
  });

  it("modified z on the textbook series (Iglewicz and Hoaglin)", () => {
    const z = modifiedZScores([2.1, 2.6, 2.4, 2.5, 2.3, 2.1, 2.3, 2.6, 8.2, 8.3]);
    expect(z[8]).toBeCloseTo(25.855833, 5);
    expect(z[9]).toBeCloseTo(26.3055, 4);
    expect(modifiedZScores([5, 5, 5, 9])).toEqual([null, null, null, null]);
  });

  it("Hampel filter (made-up series)", () => {
    const x = [
      2.1, 2.13, 2.17, 2.19, 2.95, 2.26, 2.3, 2.33, 2.37, 1.2, 2.44, 2.49, 2.52, 2.55, 2.6,
    ];
    const out = hampelFilter(x);
    expect(out.flatMap((p, i) => (p.flagged ? [i] : []))).toEqual([4, 9]);
    expect([out[4]!.filtered, out[9]!.filtered]).toEqual([2.26, 2.37]);
  });

  it("a shift or a change of unit changes no verdict", () => {
    const list = fc.array(fc.integer({ min: -100, max: 100 }), { minLength: 5, maxLength: 20 });
    fc.assert(
      fc.property(list, fc.integer({ min: -64, max: 64 }), (x, shift) => {
        const y = x.map((v) => 4 * v + shift);
        expect(modifiedZScores(y)).toEqual(modifiedZScores(x));
        expect(hampelFilter(y).map((p) => p.flagged)).toEqual(
          hampelFilter(x).map((p) => p.flagged),
        );
        expect(generalisedEsdTest(y, 3).outliers).toEqual(generalisedEsdTest(x, 3).outliers);
      }),
      { seed: 20260150 },
    );
  });
});

describe("Rosner's example of the reference folder", () => {
  it("finds three outliers with the printed statistics", () => {
    const reference = readReference<{
      rosner_esd_alpha05_r10: { rows: [number, number, number, number, boolean][] };
    }>("checks/outliers.json").rosner_esd_alpha05_r10;
    const values = readReferenceText("nist-handbook/ROSNER.DAT")
      .split(/\r?\n/)
      .filter((line) => /^\s*-?\d*\.\d+\s*$/.test(line))
      .map(Number);
    expect(values.length).toBe(54);
    const { outliers, steps } = generalisedEsdTest(values, 10);
    expect(outliers.length).toBe(3);
    reference.rows.forEach(([, value, statistic, critical], i) => {
      expect(steps[i]!.value).toBe(value);
      expect(steps[i]!.statistic).toBeCloseTo(statistic, 10);
      expect(steps[i]!.critical).toBeCloseTo(critical, 9);
    });
  });
});
