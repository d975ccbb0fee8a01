import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { betaCumulative, betaQuantile } from "../../../src/stats/distributions/beta.js";
import { binomialCumulative } from "../../../src/stats/distributions/binomial.js";
import {
  chiSquaredCumulative,
  chiSquaredQuantile,
} from "../../../src/stats/distributions/chi-squared.js";
import { fCumulative, fQuantile } from "../../../src/stats/distributions/f.js";
import { gammaCumulative, gammaQuantile } from "../../../src/stats/distributions/gamma.js";
import { noncentralTCumulative } from "../../../src/stats/distributions/noncentral-t.js";
import {
  normalCumulative,
  normalLogCumulative,
  normalQuantile,
} from "../../../src/stats/distributions/normal.js";
import { poissonCumulative } from "../../../src/stats/distributions/poisson.js";
import {
  rankSumCumulative,
  signedRankCumulative,
} from "../../../src/stats/distributions/rank-sums.js";
import {
  studentTCumulative,
  studentTQuantile,
} from "../../../src/stats/distributions/student-t.js";
import {
  studentizedRangeCumulative,
  studentizedRangeQuantile,
} from "../../../src/stats/distributions/studentized-range.js";
import { digamma, logGamma } from "../../../src/stats/special-functions/gamma-function.js";
import { readReference } from "../reference-folder.js";

/**
 * All grids of the reference folder, computed with general-purpose statistics
 * software (R 4.2.2) and, where its 50-digit check ran, confirmed with mpmath.
 * Tolerances are those the folder's README states.
 */
interface Grid {
  readonly fn: string;
  readonly args: Readonly<Record<string, number | readonly number[]>>;
  readonly value: readonly (number | string)[];
}
type Arguments = Readonly<Record<string, number>>;
interface Check {
  readonly compute: (a: Arguments) => number;
  readonly relative?: number;
  readonly absolute?: number;
}

const a = (o: Arguments, name: string) => o[name]!;
const tailOf = (lower: number) => (lower ? "lower" : "upper");
const checks: Record<string, Check> = {
  "pt(q,df,lower)": {
    compute: (o) => studentTCumulative(a(o, "q"), a(o, "df"), tailOf(a(o, "lower"))),
  },
  "qt(p,df)": {
    compute: (o) => studentTQuantile(a(o, "p"), a(o, "df")),
    relative: 1e-10,
    absolute: 1e-14,
  },
  "pf(q,df1,df2,upper)": {
    compute: (o) => fCumulative(a(o, "q"), a(o, "df1"), a(o, "df2"), "upper"),
  },
  "pf(q,df1,df2,lower)": { compute: (o) => fCumulative(a(o, "q"), a(o, "df1"), a(o, "df2")) },
  "qf(p,df1,df2)": {
    compute: (o) => fQuantile(a(o, "p"), a(o, "df1"), a(o, "df2")),
    relative: 1e-10,
  },
  "pchisq(q,df,lower)": { compute: (o) => chiSquaredCumulative(a(o, "q"), a(o, "df")) },
  "pchisq(q,df,upper)": { compute: (o) => chiSquaredCumulative(a(o, "q"), a(o, "df"), "upper") },
  "qchisq(p,df)": { compute: (o) => chiSquaredQuantile(a(o, "p"), a(o, "df")), relative: 1e-10 },
  "pnorm(q)": { compute: (o) => normalCumulative(a(o, "q")) },
  "pnorm(q,upper)": { compute: (o) => normalCumulative(a(o, "q"), "upper") },
  "pnorm(q,log)": { compute: (o) => normalLogCumulative(a(o, "q")) },
  "qnorm(p)": { compute: (o) => normalQuantile(a(o, "p")) },
  "qnorm(p,upper)": { compute: (o) => normalQuantile(a(o, "p"), "upper") },
  "pgamma(q,shape,lower)": { compute: (o) => gammaCumulative(a(o, "q"), a(o, "shape")) },
  "pgamma(q,shape,upper)": {
    compute: (o) => gammaCumulative(a(o, "q"), a(o, "shape"), 1, "upper"),
  },
  "qgamma(p,shape)": { compute: (o) => gammaQuantile(a(o, "p"), a(o, "shape")), relative: 1e-10 },
  "pbeta(q,a,b)": { compute: (o) => betaCumulative(a(o, "q"), a(o, "a"), a(o, "b")) },
  "pbeta(q,a,b,upper)": {
    compute: (o) => betaCumulative(a(o, "q"), a(o, "a"), a(o, "b"), "upper"),
  },
  "qbeta(p,a,b)": {
    compute: (o) => betaQuantile(a(o, "p"), a(o, "a"), a(o, "b")),
    relative: 1e-10,
  },
  "ptukey(q,nmeans,df,upper)": {
    compute: (o) => studentizedRangeCumulative(a(o, "q"), a(o, "nmeans"), a(o, "df"), "upper"),
    relative: 0,
    absolute: 1e-8,
  },
  // The reference stops at about five digits (see its README).
  "qtukey(p,nmeans,df)": {
    compute: (o) => studentizedRangeQuantile(a(o, "p"), a(o, "nmeans"), a(o, "df")),
    relative: 1e-4,
  },
  "psignrank(q,n)": { compute: (o) => signedRankCumulative(a(o, "q"), a(o, "n")) },
  "pwilcox(q,m,n)": { compute: (o) => rankSumCumulative(a(o, "q"), a(o, "m"), a(o, "n")) },
  "lgamma(x)": { compute: (o) => logGamma(a(o, "x")) },
  // Ill-conditioned at its root: the reference itself is only good to 1e-15 absolute there.
  "digamma(x)": { compute: (o) => digamma(a(o, "x")), absolute: 1e-14 },
  "pbinom(q,size,prob)": {
    compute: (o) => binomialCumulative(a(o, "q"), a(o, "size"), a(o, "prob")),
  },
  "ppois(q,lambda)": { compute: (o) => poissonCumulative(a(o, "q"), a(o, "lambda")) },
  "pt(q,df,ncp=1)": {
    compute: (o) => noncentralTCumulative(a(o, "q"), a(o, "df"), 1),
    relative: 1e-9,
  },
};

/**
 * Where the reference itself is off, the right value: from mpmath at 50 digits,
 * or, for the studentised range, from a separately written quadrature (fixture).
 */
const corrected = new Map<string, number>([
  // The reference underflows to 0 below -37.52.
  ["pnorm(q)|-38", 2.88542835e-316],
  ["qt(p,df)|0.999999999|0.5", 1.0284912144917752e17],
  ["qt(p,df)|1e-300|3.7", -1.4883133676165264e81],
  // The reference takes F quantiles from 1 / beta - 1 and so loses the far lower tail.
  ["qf(p,df1,df2)|1e-10|1|1", 2.4674011002723397e-20],
  ["qf(p,df1,df2)|1e-10|2|1", 1.00000000015e-10],
  ["qf(p,df1,df2)|1e-10|1|3", 1.850550825204255e-20],
  ["qf(p,df1,df2)|1e-10|2|3", 1.0000000000833333e-10],
  ["qf(p,df1,df2)|1e-10|1|12.7", 1.6338062227955366e-20],
  ["qf(p,df1,df2)|1e-10|2|12.7", 1.0000000000578741e-10],
  ["qf(p,df1,df2)|1e-10|1|100", 1.5786698446087827e-20],
  ["qf(p,df1,df2)|1e-10|2|100", 1.000000000051e-10],
]);
const range = JSON.parse(
  readFileSync(new URL("./fixtures/studentized-range.json", import.meta.url), "utf8"),
) as { upperTail: number[][]; quantile: number[][] };
for (const [q, k, df, upper] of range.upperTail) {
  corrected.set(`ptukey(q,nmeans,df,upper)|${q}|${k}|${df}`, upper!);
}
for (const [p, k, df, q] of range.quantile) {
  corrected.set(`qtukey(p,nmeans,df)|${p}|${k}|${df}`, q!);
}

describe("distribution grids of the reference folder", () => {
  const grids = readReference<{ grids: Grid[] }>("values/distributions.json").grids.filter(
    (g) => g.value,
  );

  it("covers every grid that is there", () => {
    expect(grids.map((g) => g.fn).sort()).toEqual(Object.keys(checks).sort());
    expect(grids.reduce((n, g) => n + g.value.length, 0)).toBe(2172);
  });

  it.each(grids.map((g) => [g.fn, g] as const))("%s", (fn, grid) => {
    const check = checks[fn]!;
    const misses: unknown[] = [];
    grid.value.forEach((raw, i) => {
      const at = Object.fromEntries(
        Object.entries(grid.args).map(([k, v]) => [k, typeof v === "number" ? v : v[i]!]),
      );
      const key = [fn, ...Object.values(at)].join("|");
      const wanted = corrected.get(key) ?? Number(raw);
      const got = check.compute(at);
      const off = Math.abs(got - wanted);
      const allowed = (check.relative ?? 1e-12) * Math.abs(wanted) + (check.absolute ?? 0);
      if (!(got === wanted || off <= allowed))
        misses.push({ at, got, wanted, relative: off / wanted });
    });
    expect(misses).toEqual([]);
  });
});
