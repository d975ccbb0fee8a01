import { expect, describe as group, it } from "vitest";
import { autocorrelation } from "../../../src/stats/descriptive/autocorrelation.js";
import { describe } from "../../../src/stats/descriptive/describe.js";
import { oneWayAnova } from "../../../src/stats/hypothesis-tests/one-way-anova.js";
import { matrixFromRows } from "../../../src/stats/linear-algebra/matrix.js";
import { fitLinearModel } from "../../../src/stats/linear-model/fit-linear-model.js";
import { readReference, readReferenceText } from "../reference-folder.js";
import { designOf } from "./linear-designs.js";
import { readCertifiedRows, sharedDigits } from "./read-certified-data.js";

/** NIST Statistical Reference Datasets, certified to 15 digits. */
interface Certified {
  linear: Record<string, { coef: number[]; sd: number[]; rsd: number; r2: number; rss: number }>;
  anova: Record<
    string,
    { df: number[]; ssb: number; ssw: number; F: number; r2: number; rsd: number }
  >;
  univariate: Record<string, { n: number; mean: number; sd: number; lag1: number }>;
}

/**
 * Digits reached where float64 input itself is the limit: the tenth powers of
 * Filip are rounded before any arithmetic starts, and the condition of that design
 * turns 1e-16 into about 1e-8.
 */
const allowance: Record<string, number> = { Filip: 7 };

group("NIST reference sets", () => {
  const certified: Certified = readReference<Certified>(
    "nist-strd/linear-anova-univariate-certified.json",
  );

  it("has all of them", () => {
    expect(Object.keys(certified.linear)).toHaveLength(11);
    expect(Object.keys(certified.anova)).toHaveLength(11);
    expect(Object.keys(certified.univariate)).toHaveLength(8);
  });

  it.each(Object.keys(certified.linear))("linear: %s", (name) => {
    const wanted = certified.linear[name]!;
    const rows = readCertifiedRows(readReferenceText(`nist-strd/linear/${name}.dat`));
    const make = designOf(name);
    const model = fitLinearModel(
      matrixFromRows(rows.map(([, ...x]) => make(x))),
      rows.map(([y]) => y!),
    );
    const least = allowance[name] ?? 9;
    const digits: Record<string, number> = {};
    wanted.coef.forEach((b, j) => {
      digits[`b${j}`] = sharedDigits(model.coefficients[j]!, b);
      // An exact fit has certified standard errors of 0: absolute, against the coefficients' size.
      digits[`se${j}`] = sharedDigits(model.standardErrors[j]!, wanted.sd[j]!);
    });
    digits["rsd"] = sharedDigits(model.residualSd!, wanted.rsd);
    digits["r2"] = sharedDigits(model.r2!, wanted.r2);
    const short = Object.entries(digits).filter(([, d]) => !(d >= least));
    expect(short).toEqual([]);
    expect(model.refinement.settled).toBe(true);
  });

  it.each(Object.keys(certified.univariate))("univariate: %s", (name) => {
    const wanted = certified.univariate[name]!;
    const y = readCertifiedRows(readReferenceText(`nist-strd/univariate/${name}.dat`)).map(
      ([v]) => v!,
    );
    const d = describe(y);
    expect(d.n).toBe(wanted.n);
    expect(sharedDigits(d.mean!, wanted.mean)).toBeGreaterThanOrEqual(14);
    // The data of the last set differ from the certified ones by their own rounding
    // (1e7 with one decimal: 1e-9 of 0.1), which no arithmetic can undo.
    const least = name === "NumAcc4" ? 8 : 9;
    expect(sharedDigits(d.sd!, wanted.sd)).toBeGreaterThanOrEqual(least);
    expect(sharedDigits(autocorrelation(y)!, wanted.lag1)).toBeGreaterThanOrEqual(least);
  });

  it.each(Object.keys(certified.anova))("one-way analysis of variance: %s", (name) => {
    const wanted = certified.anova[name]!;
    const rows = readCertifiedRows(readReferenceText(`nist-strd/anova/${name}.dat`));
    const groups = new Map<number, number[]>();
    for (const [g, y] of rows) groups.set(g!, [...(groups.get(g!) ?? []), y!]);
    const table = oneWayAnova([...groups.values()]);
    // 13 constant leading digits leave 16 - 13 = 3 of the decimals in a double: the
    // data themselves are rounded to 1.2e-4, so about 3 digits are all there is.
    const constant = /SmLs0[789]/.test(name) ? 2 : 9;
    const least = /SmLs0[456]/.test(name) ? 8 : constant;
    expect([table.df1, table.df2]).toEqual(wanted.df);
    expect(sharedDigits(table.between, wanted.ssb)).toBeGreaterThanOrEqual(least);
    expect(sharedDigits(table.within, wanted.ssw)).toBeGreaterThanOrEqual(least);
    expect(sharedDigits(table.f!, wanted.F)).toBeGreaterThanOrEqual(least);
    expect(sharedDigits(table.r2!, wanted.r2)).toBeGreaterThanOrEqual(least);
  });
});
