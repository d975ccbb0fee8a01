import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  conditionalZ,
  conditionalZGivenAll,
  lowGainLine,
} from "../../src/reference/conditional-z.js";
import {
  lmsAtAge,
  makeReferenceTable,
  referenceCurves,
  referenceZ,
} from "../../src/reference/reference-table.js";
import { lmsCentile, lmsZ, restrictedLmsZ } from "../../src/stats/lms/lms-z.js";
import { readReference } from "../truth/reference-folder.js";

const girl365 = { l: -0.2022, m: 8.9462, s: 0.12267 };
const boy365 = { l: 0.0645, m: 9.646, s: 0.10925 };

describe("LMS z-scores", () => {
  it("gives published z-scores of weight for age", () => {
    // World Health Organization weight-for-age; figshare 4294085 (Grellety) prints 0.048847178.
    expect(lmsZ(9, girl365)).toBeCloseTo(0.048847178, 9);
    // Two-decimal published z, WHO anthro: boy 1001 d 18 kg 2.20; girl 1000 d 15 kg 0.95;
    // boy 1010 d 10 kg -2.76; girl 1522 d 17 kg 0.24.
    expect(lmsZ(18, { l: -0.0559, m: 13.8114, s: 0.11946 })).toBeCloseTo(2.2, 2);
    expect(lmsZ(15, { l: -0.3153, m: 13.256, s: 0.12729 })).toBeCloseTo(0.95, 2);
    expect(lmsZ(10, { l: -0.0572, m: 13.8625, s: 0.11963 })).toBeCloseTo(-2.76, 2);
    expect(lmsZ(17, { l: -0.3387, m: 16.433, s: 0.14051 })).toBeCloseTo(0.24, 2);
  });

  it("gives the centiles of the boy of 365 d", () => {
    // Computed from the WHO row with the published formula.
    const kg = [6.925979, 7.740676, 8.644356, 9.646, 10.755424, 11.983347, 13.341468];
    kg.forEach((value, i) => {
      expect(lmsCentile(i - 3, boy365)).toBeCloseTo(value, 6);
    });
  });

  it("restricts z beyond 3 as the WHO defines it", () => {
    // WHO 2006 Methods and development, chapter 7; values computed with that rule.
    expect(lmsZ(6, boy365)).toBeCloseTo(-4.279979049, 8);
    expect(restrictedLmsZ(6, boy365)).toBeCloseTo(-4.136593212, 8);
    expect(lmsZ(14.5, boy365)).toBeCloseTo(3.780418092, 8);
    expect(restrictedLmsZ(14.5, boy365)).toBeCloseTo(3.853040307, 8);
    expect(restrictedLmsZ(10.37, { l: 0.3259, m: 3.1957, s: 0.14578 })).toBeCloseTo(
      12.460929668,
      8,
    );
  });

  it("has no z for a mass that is not positive, and no centile that does not exist", () => {
    expect(lmsZ(0, boy365)).toBeNull();
    expect(lmsZ(-1, boy365)).toBeNull();
    expect(lmsCentile(-12, { l: 1, m: 5, s: 0.1 })).toBeNull();
  });

  it("turns z into a value and back, through L = 0 without a step", () => {
    fc.assert(
      fc.property(
        fc.double({ min: -3, max: 3, noNaN: true }),
        fc.oneof(fc.constant(0), fc.double({ min: -1.5, max: 2, noNaN: true })),
        fc.double({ min: 0.02, max: 0.2, noNaN: true }),
        (z, l, s) => {
          const lms = { l, m: 3000, s };
          const y = lmsCentile(z, lms);
          fc.pre(y !== null);
          expect(lmsZ(y!, lms)).toBeCloseTo(z, 8);
        },
      ),
    );
    expect(lmsZ(3300, { l: 1e-12, m: 3000, s: 0.1 })).toBeCloseTo(
      lmsZ(3300, { l: 0, m: 3000, s: 0.1 })!,
      10,
    );
  });

  describe("against the large tables", () => {
    it("gives every z and centile of the table of Box-Cox values", () => {
      const table = readReference<{ z_table: Record<string, number[]> }>("values/lms.json").z_table;
      const { y, L, M, S, z } = table as Record<"y" | "L" | "M" | "S" | "z", number[]>;
      y.forEach((value, i) => {
        const got = lmsZ(value, { l: L[i]!, m: M[i]!, s: S[i]! })!;
        expect(Math.abs(got - z[i]!)).toBeLessThanOrEqual(1e-12 * Math.max(1, Math.abs(z[i]!)));
      });
    });

    it("gives every row of the restricted z check", () => {
      const { rows } = readReference<{ rows: Record<string, number>[] }>("checks/who_z.json");
      for (const r of rows) {
        const lms = { l: r["L"]!, m: r["M"]!, s: r["S"]! };
        expect(lmsZ(r["weight"]!, lms)).toBeCloseTo(r["z_unrestricted"]!, 8);
        expect(restrictedLmsZ(r["weight"]!, lms)).toBeCloseTo(r["z_restricted"]!, 8);
      }
    });
  });
});

describe("a reference table one brings along", () => {
  const table = makeReferenceTable({
    title: "Two ages",
    source: "invented",
    unit: "kg",
    animals: 12,
    rows: [
      { ageD: 0, l: 0.3487, m: 3.3464, s: 0.14602 },
      { ageD: 365, ...boy365 },
    ],
  });

  it("interpolates between ages and is exact at its rows", () => {
    expect(lmsAtAge(table, 365)).toEqual(boy365);
    expect(lmsAtAge(table, 182.5)!.m).toBeCloseTo((3.3464 + 9.646) / 2, 12);
  });

  it("never extrapolates, says so, and keeps the point", () => {
    const outside = referenceZ(table, 400, 10);
    expect(outside.z).toBeNull();
    expect(outside.point).toEqual({ ageD: 400, mass: 10 });
    expect(outside.notices.map((n) => n.code)).toContain("reference-outside");
    expect(referenceZ(table, -0.5, 3).z).toBeNull();
  });

  it("tells of few animals, of an impossible z, and of a mass not above zero", () => {
    expect(referenceZ(table, 365, 9.6).notices.map((n) => n.code)).toEqual([
      "reference-few-animals",
    ]);
    // WHO weight-for-age plausibility: below -6 or above +5 is flagged.
    expect(referenceZ(table, 365, 30).notices.map((n) => n.code)).toContain(
      "reference-implausible",
    );
    expect(referenceZ(table, 365, 0).z).toBeNull();
  });

  it("lists every fault of a wrong table at once", () => {
    const wrong = () =>
      makeReferenceTable({
        ...table,
        rows: [
          { ageD: 5, l: 1, m: -1, s: 0.1 },
          { ageD: 5, l: 1, m: 1, s: 0 },
        ],
      });
    expect(wrong).toThrow(/median -1.*coefficient of variation 0.*does not follow/);
  });

  it("draws curves that do not cross", () => {
    const curves = referenceCurves(table, [-2, 0, 2]);
    for (let i = 0; i < 2; i++) {
      expect(curves[0]!.points[i]!.mass!).toBeLessThan(curves[1]!.points[i]!.mass!);
      expect(curves[1]!.points[i]!.mass!).toBeLessThan(curves[2]!.points[i]!.mass!);
    }
  });
});

describe("conditional z", () => {
  it("gives the worked example", () => {
    // Cole (1995): z1 -0.5, z2 -1.4, r 0.9 -> (-1.4 + 0.45)/sqrt(0.19) = -2.179449.
    expect(conditionalZ(-0.5, -1.4, 0.9)).toBeCloseTo(-2.179449, 6);
    expect(
      conditionalZGivenAll(
        [-0.5, -1.4],
        [
          [1, 0.9],
          [0.9, 1],
        ],
      ),
    ).toBeCloseTo(-2.179449, 6);
  });

  it("reduces to the last step where the correlation is that of a Markov chain", () => {
    // For r_ij = product of the steps, earlier measurements add nothing (textbook AR(1)).
    const r = [
      [1, 0.8, 0.56],
      [0.8, 1, 0.7],
      [0.56, 0.7, 1],
    ];
    expect(conditionalZGivenAll([2.3, 0.4, -1], r)).toBeCloseTo(conditionalZ(0.4, -1, 0.7)!, 10);
  });

  it("puts the low-gain line where the conditional z is the wanted one", () => {
    const z2 = lowGainLine(0.6, 0.9, -1.645);
    expect(conditionalZ(0.6, z2, 0.9)).toBeCloseTo(-1.645, 10);
  });

  it("has no answer where the correlation is no correlation", () => {
    expect(conditionalZ(0, 1, 1)).toBeNull();
    expect(
      conditionalZGivenAll(
        [0, 1],
        [
          [1, 1],
          [1, 1],
        ],
      ),
    ).toBeNull();
  });
});
