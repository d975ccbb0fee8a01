import {
  betaCumulative,
  betaQuantile,
  chiSquaredCumulative,
  chiSquaredQuantile,
  controlChartConstants,
  cusumRunLength,
  ewmaRunLength,
  fCumulative,
  fQuantile,
  gammaCumulative,
  gammaQuantile,
  logGamma,
  normalCumulative,
  normalLogCumulative,
  normalQuantile,
  studentizedRangeCumulative,
  studentTCumulative,
  studentTQuantile,
} from "../../../src/stats/index.js";
import { type Comparison, comparisonsOf } from "./comparison.js";
import { readValues } from "./read-values.js";

interface RValues {
  readonly source: string;
  readonly distributions: readonly {
    readonly fn: string;
    readonly args: Readonly<Record<string, number | readonly number[]>>;
    readonly value: readonly number[];
  }[];
  readonly cusum: readonly {
    readonly k: number;
    readonly h: number;
    readonly mu: number;
    readonly arl_one_sided: number;
    readonly fir_one_sided_s0_half_h: number;
  }[];
  readonly ewma: readonly { lambda: number; L: number; mu: number; arl: number }[];
  readonly constants: readonly { n: number; d2: number; d3: number; c4: number }[];
}

type Arguments = Readonly<Record<string, number>>;
const functions: Readonly<Record<string, (a: Arguments) => number>> = {
  "pt(q,df,lower)": (a) => studentTCumulative(a["q"]!, a["df"]!, a["lower"] ? "lower" : "upper"),
  "qt(p,df)": (a) => studentTQuantile(a["p"]!, a["df"]!),
  "pf(q,df1,df2,upper)": (a) => fCumulative(a["q"]!, a["df1"]!, a["df2"]!, "upper"),
  "qf(p,df1,df2)": (a) => fQuantile(a["p"]!, a["df1"]!, a["df2"]!),
  "pchisq(q,df,upper)": (a) => chiSquaredCumulative(a["q"]!, a["df"]!, "upper"),
  "qchisq(p,df)": (a) => chiSquaredQuantile(a["p"]!, a["df"]!),
  "pnorm(q)": (a) => normalCumulative(a["q"]!),
  "pnorm(q,log)": (a) => normalLogCumulative(a["q"]!),
  "qnorm(p)": (a) => normalQuantile(a["p"]!),
  "pgamma(q,shape,upper)": (a) => gammaCumulative(a["q"]!, a["shape"]!, 1, "upper"),
  "qgamma(p,shape)": (a) => gammaQuantile(a["p"]!, a["shape"]!),
  "pbeta(q,a,b)": (a) => betaCumulative(a["q"]!, a["a"]!, a["b"]!),
  "qbeta(p,a,b)": (a) => betaQuantile(a["p"]!, a["a"]!, a["b"]!),
  "ptukey(q,nmeans,df,upper)": (a) =>
    studentizedRangeCumulative(a["q"]!, a["nmeans"]!, a["df"]!, "upper"),
  "lgamma(x)": (a) => logGamma(a["x"]!),
};

/**
 * Distributions and run lengths of control charts against R 4.2.2. R's own studentized
 * range is good to about ten decimals.
 */
export function rValues(): Comparison[] {
  const values = readValues<RValues>("r");
  const { all, add } = comparisonsOf("R 4.2.2, stats");
  for (const { fn, args, value } of values.distributions) {
    const compute = functions[fn];
    if (compute === undefined) throw new Error(`${fn} has no counterpart here`);
    value.forEach((expected, i) => {
      const at = Object.fromEntries(
        Object.entries(args).map(([name, a]) => [name, typeof a === "number" ? a : a[i]!]),
      );
      add(`distribution ${fn}`, Object.values(at).join(", "), expected, compute(at));
    });
  }
  for (const c of values.cusum) {
    const chart = { allowance: c.k, limit: c.h };
    const at = `k ${c.k}, h ${c.h}, shift ${c.mu}`;
    add("run length, cumulative sum", at, c.arl_one_sided, cusumRunLength(chart, c.mu));
    add(
      "run length, cumulative sum with head start",
      at,
      c.fir_one_sided_s0_half_h,
      cusumRunLength({ ...chart, start: c.h / 2 }, c.mu),
    );
  }
  for (const c of values.ewma)
    add(
      "run length, moving average",
      `weight ${c.lambda}, width ${c.L}, shift ${c.mu}`,
      c.arl,
      ewmaRunLength({ weight: c.lambda, width: c.L }, c.mu),
    );
  for (const c of values.constants) {
    const own = controlChartConstants(c.n);
    add("constants of control charts", `d2, n ${c.n}`, c.d2, own.d2);
    add("constants of control charts", `c4, n ${c.n}`, c.c4, own.c4);
  }
  return all;
}
