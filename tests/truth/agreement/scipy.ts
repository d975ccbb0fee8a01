import type { CurveName } from "../../../src/growth/curve-catalogue.js";
import { fitCurve } from "../../../src/growth/fit-curve.js";
import * as stats from "../../../src/stats/index.js";
import { orangeAges, orangeTrees } from "../mixed-models/orange-trees.js";
import { type Comparison, comparisonsOf } from "./comparison.js";
import { readValues } from "./read-values.js";

interface SciPyValues {
  readonly source: string;
  readonly fits: readonly {
    readonly curve: CurveName;
    readonly tree: string;
    readonly estimates: readonly number[];
    readonly se: readonly number[];
    readonly rss: number;
  }[];
  readonly tests: Readonly<Record<string, number>>;
  readonly distributions: readonly {
    readonly fn: string;
    readonly args: readonly number[];
    readonly value: number;
  }[];
}

/** Growth curves, tests and quantiles against SciPy; `make-scipy-values.py` writes its values. */
export function scipyValues(): Comparison[] {
  const values = readValues<SciPyValues>("scipy");
  const { all, add } = comparisonsOf(values.source.split(",")[0]!);
  for (const each of values.fits) {
    const fit = fitCurve(
      { ages: orangeAges, masses: orangeTrees[each.tree]! },
      { curve: each.curve },
    ).value;
    const what = `curve_fit: ${each.curve}, orange tree ${each.tree}`;
    each.estimates.forEach((expected, j) => {
      const own = fit.estimates[j]!;
      add(what, own.name, expected, own.estimate.value);
      add(what, `its standard error, ${own.name}`, each.se[j]!, own.estimate.se);
    });
  }
  const [a, b, c] = ["1", "2", "4"].map((tree) => orangeTrees[tree]!) as [
    number[],
    number[],
    number[],
  ];
  const welch = stats.tTest(a, b);
  const anova = stats.oneWayAnova([a, b, c]);
  const kruskal = stats.kruskalWallisTest([a, b, c]);
  const own: Readonly<Record<string, number | null>> = {
    "welch t": welch.t,
    "welch p": welch.p,
    "paired t p": stats.tTest(a, b, { kind: "paired" }).p,
    "anova F": anova.f,
    "anova p": anova.p,
    "kruskal H": kruskal.chiSquared,
    "kruskal p": kruskal.p,
    "shapiro W": stats.shapiroWilkTest(b).w,
    "pearson r": stats.pearsonCorrelation(orangeAges, a).r,
    "spearman rho": stats.spearmanCorrelation(orangeAges, b),
    "kendall tau": stats.kendallTau(orangeAges, b),
  };
  for (const [name, expected] of Object.entries(values.tests))
    add("tests on orange trees", name, expected, own[name]);
  const functions = stats as unknown as Readonly<Record<string, (...x: number[]) => number>>;
  for (const { fn, args, value } of values.distributions)
    add(`distribution ${fn}`, args.join(", "), value, functions[fn]!(...args));
  return all;
}
