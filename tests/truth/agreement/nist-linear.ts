import { autocorrelation } from "../../../src/stats/descriptive/autocorrelation.js";
import { describe } from "../../../src/stats/descriptive/describe.js";
import { oneWayAnova } from "../../../src/stats/hypothesis-tests/one-way-anova.js";
import { matrixFromRows } from "../../../src/stats/linear-algebra/matrix.js";
import { fitLinearModel } from "../../../src/stats/linear-model/fit-linear-model.js";
import { type Comparison, comparisonsOf } from "./comparison.js";
import { readValues } from "./read-values.js";

interface Certified {
  readonly linear: Readonly<
    Record<string, { coef: number[]; sd: number[]; rsd: number; r2: number; rows: number[][] }>
  >;
  readonly univariate: Readonly<
    Record<string, { mean: number; sd: number; lag1: number; values: number[] }>
  >;
  readonly anova: Readonly<
    Record<string, { ssb: number; ssw: number; F: number; rows: number[][] }>
  >;
}

const powers = (x: number, top: number) => Array.from({ length: top + 1 }, (_, k) => x ** k);
const designs: Readonly<Record<string, (x: readonly number[]) => number[]>> = {
  Filip: ([x]) => powers(x!, 10),
  Longley: (x) => [1, ...x],
  NoInt1: ([x]) => [x!],
  NoInt2: ([x]) => [x!],
  Norris: ([x]) => powers(x!, 1),
  Pontius: ([x]) => powers(x!, 2),
};

/** NIST StRD, certified to 15 digits: all linear regressions, summaries, one-way analyses of variance. */
export function nistLinear(): Comparison[] {
  const { all, add } = comparisonsOf("NIST StRD, linear and univariate");
  const { linear, univariate, anova } = readValues<Certified>("nist-linear");
  for (const [name, wanted] of Object.entries(linear)) {
    const make = designs[name] ?? (([x]: readonly number[]) => powers(x!, 5));
    const model = fitLinearModel(
      matrixFromRows(wanted.rows.map(([, ...x]) => make(x))),
      wanted.rows.map(([y]) => y!),
    );
    wanted.coef.forEach((b, j) => {
      add(`regression ${name}`, `coefficient ${j + 1}`, b, model.coefficients[j]);
      // A certified error of nought has no digits to share.
      if (wanted.sd[j] !== 0)
        add(
          `regression ${name}`,
          `its standard error ${j + 1}`,
          wanted.sd[j]!,
          model.standardErrors[j],
        );
    });
    add(`regression ${name}`, "R²", wanted.r2, model.r2);
  }
  for (const [name, wanted] of Object.entries(univariate)) {
    const d = describe(wanted.values);
    add(`summary ${name}`, "mean", wanted.mean, d.mean);
    add(`summary ${name}`, "standard deviation", wanted.sd, d.sd);
    add(`summary ${name}`, "autocorrelation, lag 1", wanted.lag1, autocorrelation(wanted.values));
  }
  for (const [name, wanted] of Object.entries(anova)) {
    const groups = new Map<number, number[]>();
    for (const [g, y] of wanted.rows) groups.set(g!, [...(groups.get(g!) ?? []), y!]);
    const table = oneWayAnova([...groups.values()]);
    add(`analysis of variance ${name}`, "between", wanted.ssb, table.between);
    add(`analysis of variance ${name}`, "within", wanted.ssw, table.within);
    add(`analysis of variance ${name}`, "F", wanted.F, table.f);
  }
  return all;
}
