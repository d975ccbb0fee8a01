import { readFileSync } from "node:fs";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { betaCumulative, betaDensity, betaQuantile } from "../../src/stats/distributions/beta.js";
import {
  binomialCumulative,
  binomialDensity,
  binomialQuantile,
} from "../../src/stats/distributions/binomial.js";
import { chiSquaredCumulative } from "../../src/stats/distributions/chi-squared.js";
import { fCumulative, fDensity, fQuantile } from "../../src/stats/distributions/f.js";
import {
  gammaCumulative,
  gammaDensity,
  gammaQuantile,
} from "../../src/stats/distributions/gamma.js";
import {
  noncentralTCumulative,
  noncentralTQuantile,
} from "../../src/stats/distributions/noncentral-t.js";
import {
  normalCumulative,
  normalDensity,
  normalQuantile,
} from "../../src/stats/distributions/normal.js";
import { poissonCumulative, poissonQuantile } from "../../src/stats/distributions/poisson.js";
import {
  rankSumCumulative,
  rankSumQuantile,
  signedRankCumulative,
} from "../../src/stats/distributions/rank-sums.js";
import {
  studentTCumulative,
  studentTDensity,
  studentTQuantile,
} from "../../src/stats/distributions/student-t.js";
import {
  studentizedRangeCumulative,
  studentizedRangeQuantile,
} from "../../src/stats/distributions/studentized-range.js";
import type { Tail } from "../../src/stats/distributions/tail.js";
import { weibullCumulative, weibullQuantile } from "../../src/stats/distributions/weibull.js";
import {
  digamma,
  logBeta,
  logGamma,
  trigamma,
} from "../../src/stats/special-functions/gamma-function.js";

/** Values computed with mpmath 1.3.0 at 50 digits, rounded to the nearest double. */
const fiftyDigits: [string, number[], Tail, number][] = [
  ["normal", [-38], "lower", 2.88542835e-316],
  ["normal", [-30], "lower", 4.906713927148187e-198],
  ["normal", [-8], "lower", 6.220960574271784e-16],
  ["normal", [-1.96], "lower", 0.024997895148220435],
  ["normal", [-0.3], "lower", 0.3820885778110474],
  ["normal", [0.7], "lower", 0.758036347776927],
  ["normal", [2.5], "lower", 0.9937903346742238],
  ["studentT", [8, 0.5], "upper", 0.1132525464037893],
  ["studentT", [1.96, 3.7], "upper", 0.06364152062976502],
  ["studentT", [30, 10], "upper", 1.980896171015662e-11],
  ["studentT", [10000, 2], "upper", 4.999999925000001e-9],
  ["studentT", [5, 1000000], "upper", 2.866998935445371e-7],
  ["chiSquared", [1e-8, 0.3], "lower", 0.060945943449088665],
  ["chiSquared", [3.84, 1], "lower", 0.9499564787512949],
  ["chiSquared", [20, 30], "lower", 0.08345847293466283],
  ["chiSquared", [100, 5], "upper", 5.28514836094324e-20],
  ["chiSquared", [700, 200], "upper", 1.079900895730286e-56],
  ["chiSquared", [0.01, 0.3], "upper", 0.5162044656981468],
  ["f", [10, 5.5, 12.7], "upper", 0.00039543377552018506],
  ["f", [10000, 300, 100], "upper", 4.710645341516404e-177],
  ["f", [0.9, 1, 5000], "upper", 0.342827560318409],
  ["f", [1e-6, 30, 3], "lower", 4.477705195798509e-75],
  ["f", [1, 2, 1], "lower", 0.4226497308103742],
  ["beta", [0.3, 400, 0.1], "lower", 4.6478597537023995e-213],
  ["beta", [1e-12, 0.5, 20], "lower", 5.014827504751409e-6],
  ["beta", [0.5, 400, 400], "lower", 0.5],
  ["beta", [0.9999, 3.3, 0.1], "lower", 0.5351093315380389],
  ["gamma", [1e-10, 0.01], "lower", 0.7988610914336052],
  ["gamma", [50, 100], "lower", 3.200065324585125e-10],
  ["gamma", [0.1, 2.5], "lower", 0.0008861387888124426],
];
const cumulative: Record<string, (a: number[], tail: Tail) => number> = {
  normal: ([z], tail) => normalCumulative(z!, tail),
  studentT: ([t, df], tail) => studentTCumulative(t!, df!, tail),
  chiSquared: ([x, df], tail) => chiSquaredCumulative(x!, df!, tail),
  f: ([x, df1, df2], tail) => fCumulative(x!, df1!, df2!, tail),
  beta: ([x, a, b], tail) => betaCumulative(x!, a!, b!, tail),
  gamma: ([x, shape], tail) => gammaCumulative(x!, shape!, 1, tail),
};

describe("cumulative distributions against 50-digit values", () => {
  it.each(fiftyDigits)("%s %j %s", (name, at, tail, wanted) => {
    expect(Math.abs(cumulative[name]!(at, tail) / wanted - 1)).toBeLessThan(1e-12);
  });
});

describe("gamma function and its derivatives (mpmath, 50 digits)", () => {
  it("log gamma, digamma, trigamma", () => {
    const logs: [number, number][] = [
      [1e-300, 690.7755278982137],
      [0.1, 2.252712651734206],
      [0.9, 0.06637623973474295],
      [1.1, -0.049872441259839764],
      [1.9, -0.03898427592308336],
      [2.1, 0.04543773854448518],
      [3.7, 1.428072326665388],
      [14.9, 24.924132002217277],
      [100, 359.1342053695754],
      [1e5, 1051287.7089736569],
    ];
    for (const [x, y] of logs) expect(Math.abs(logGamma(x) / y - 1)).toBeLessThan(2e-15);
    const first: [number, number][] = [
      [0.1, -10.423754940411076],
      [1.9, 0.35618416116405965],
      [3.7, 1.1671535393615113],
      [100, 4.600161852738087],
    ];
    for (const [x, y] of first) expect(Math.abs(digamma(x) / y - 1)).toBeLessThan(1e-14);
    const second: [number, number][] = [
      [0.1, 101.43329915079275],
      [1, 1.6449340668482264],
      [2.5, 0.49035775610023485],
      [30, 0.033895060357739946],
    ];
    for (const [x, y] of second) expect(Math.abs(trigamma(x) / y - 1)).toBeLessThan(1e-14);
    expect(logGamma(-1.5)).toBeCloseTo(Math.log((4 / 3) * Math.sqrt(Math.PI)), 14);
    expect(logBeta(1e6, 2)).toBeCloseTo(-Math.log(1e6 * (1e6 + 1)), 12);
  });
});

describe("quantiles", () => {
  it("far tails (mpmath, 50 digits)", () => {
    expect(studentTQuantile(0.975, 5)).toBeCloseTo(2.5705818356363146, 14);
    expect(studentTQuantile(1e-300, 3.7) / -1.4883133676165264e81).toBeCloseTo(1, 12);
    expect(studentTQuantile(0.999999999, 0.5) / 1.0284912144917752e17).toBeCloseTo(1, 12);
    expect(fQuantile(1e-10, 1, 12.7) / 1.6338062227955366e-20).toBeCloseTo(1, 12);
    expect(normalQuantile(1e-320)).toBeCloseTo(-38.269125343, 8);
    expect(studentTQuantile(0.5, 3)).toBe(0);
    expect(studentTQuantile(0, 3)).toBe(Number.NEGATIVE_INFINITY);
  });

  const share = fc.double({ min: -300, max: -0.05, noNaN: true }).map((e) => 10 ** e);
  const parameter = fc.double({ min: 0.2, max: 300, noNaN: true });
  const tails: Tail[] = ["lower", "upper"];
  const closeShare = (got: number, p: number) =>
    expect(Math.abs(got / p - 1)).toBeLessThan(2e-11 * (1 + Math.abs(Math.log(p))));

  it.each(tails)("undo the cumulative distribution (%s tail)", (tail) => {
    fc.assert(
      fc.property(share, parameter, parameter, (p, a, b) => {
        closeShare(normalCumulative(normalQuantile(p, tail), tail), p);
        const t = studentTQuantile(p, a, tail);
        if (Math.abs(t) < 1e300) closeShare(studentTCumulative(t, a, tail), p);
        const g = gammaQuantile(p, a, 2, tail);
        if (g > 1e-300) closeShare(gammaCumulative(g, a, 2, tail), p);
        const f = fQuantile(p, a, b, tail);
        if (f > 1e-300 && f < 1e300) closeShare(fCumulative(f, a, b, tail), p);
        const x = betaQuantile(p, a, b, tail);
        // Next to 1 a double cannot name the quantile closely enough.
        if (x > 1e-300 && 1 - x > 1e-3) closeShare(betaCumulative(x, a, b, tail), p);
        const w = weibullQuantile(p, 1 + a / 100, 3, tail);
        if (w > 1e-300) closeShare(weibullCumulative(w, 1 + a / 100, 3, tail), p);
      }),
      { seed: 20260101 },
    );
  });

  it("counts: the smallest count that reaches the share", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.001, max: 0.999, noNaN: true }),
        fc.integer({ min: 1, max: 200 }),
        (p, n) => {
          const k = binomialQuantile(p, n, 0.3);
          expect(binomialCumulative(k, n, 0.3)).toBeGreaterThanOrEqual(p * (1 - 1e-12));
          expect(binomialCumulative(k - 1, n, 0.3)).toBeLessThan(p);
          const m = poissonQuantile(p, n / 10);
          expect(poissonCumulative(m, n / 10)).toBeGreaterThanOrEqual(p * (1 - 1e-12));
          expect(poissonCumulative(m - 1, n / 10)).toBeLessThan(p);
        },
      ),
      { seed: 20260102 },
    );
  });
});

describe("densities", () => {
  it("are the slope of the cumulative distribution", () => {
    const slope = (f: (x: number) => number, x: number) => {
      const h = 1e-3 * x;
      return (8 * (f(x + h) - f(x - h)) - (f(x + 2 * h) - f(x - 2 * h))) / (12 * h);
    };
    fc.assert(
      fc.property(
        fc.double({ min: 0.3, max: 20, noNaN: true }),
        fc.double({ min: 0.3, max: 20, noNaN: true }),
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        (a, b, x) => {
          const close = (d: number, s: number) =>
            expect(Math.abs(d - s)).toBeLessThan(1e-7 * (1 + s));
          close(
            gammaDensity(a, b),
            slope((v) => gammaCumulative(v, b), a),
          );
          close(
            betaDensity(x, a, b),
            slope((v) => betaCumulative(v, a, b), x),
          );
          close(
            fDensity(x * 2, a, b),
            slope((v) => fCumulative(v, a, b), x * 2),
          );
          close(
            studentTDensity(x * 3, a),
            slope((v) => studentTCumulative(v, a), x * 3),
          );
          close(
            normalDensity(x * 3),
            slope((v) => normalCumulative(v), x * 3),
          );
        },
      ),
      { seed: 20260103 },
    );
    const total = Array.from({ length: 31 }, (_, k) => binomialDensity(k, 30, 0.37));
    expect(total.reduce((s, v) => s + v, 0)).toBeCloseTo(1, 14);
  });
});

describe("non-central t", () => {
  it("agrees with quadrature at 25 digits (mpmath)", () => {
    expect(noncentralTCumulative(2, 10, 1)).toBeCloseTo(0.8076115625303752, 13);
    expect(noncentralTCumulative(-2, 3, 1)).toBeCloseTo(0.009968500632730913, 14);
    expect(noncentralTCumulative(5, 50, 2.5)).toBeCloseTo(0.986817922770445, 13);
    expect(noncentralTQuantile(0.8076115625303752, 10, 1)).toBeCloseTo(2, 11);
  });
});

describe("studentised range", () => {
  const fixture = JSON.parse(
    readFileSync(
      new URL("../truth/distributions/fixtures/studentized-range.json", import.meta.url),
      "utf8",
    ),
  ) as { upperTail: number[][]; quantile: number[][] };

  it("agrees with a second, separately written quadrature", () => {
    expect(fixture.upperTail.length).toBeGreaterThan(100);
    const every = fixture.upperTail.filter((_, i) => i % 3 === 0);
    for (const [q, means, df, upper] of every as [number, number, number, number][]) {
      expect(Math.abs(studentizedRangeCumulative(q, means, df, "upper") - upper)).toBeLessThan(
        1e-12,
      );
      const lower = studentizedRangeCumulative(q, means, df);
      expect(Math.abs(lower + upper - 1)).toBeLessThan(1e-12);
    }
    for (const [p, means, df, q] of fixture.quantile.slice(0, 12) as [
      number,
      number,
      number,
      number,
    ][]) {
      expect(Math.abs(studentizedRangeQuantile(p, means, df) / q - 1)).toBeLessThan(1e-9);
    }
  });

  it("for two means is Student's t", () => {
    for (const df of [2, 7.5, 200]) {
      const t = studentTCumulative(3 / Math.SQRT2, df, "upper") * 2;
      expect(studentizedRangeCumulative(3, 2, df, "upper")).toBeCloseTo(t, 13);
    }
  });
});

describe("rank sums", () => {
  it("sum to one, are symmetric, and match counting by hand", () => {
    expect(rankSumCumulative(2, 4, 5)).toBeCloseTo(4 / 126, 15);
    expect(signedRankCumulative(3, 5)).toBeCloseTo(5 / 32, 15);
    expect(rankSumCumulative(9, 4, 5) + rankSumCumulative(9, 4, 5, "upper")).toBeCloseTo(1, 14);
    expect(rankSumCumulative(199, 20, 20)).toBeCloseTo(rankSumCumulative(200, 20, 20, "upper"), 14);
    // 1 / C(60, 30): the far tail keeps its digits.
    expect(rankSumCumulative(0, 30, 30) * 1.182645815648614e17).toBeCloseTo(1, 9);
    expect(rankSumQuantile(0.5, 3, 3)).toBe(4);
  });
});

describe("mistakes", () => {
  it("refuse an impossible parameter and let NaN through as NaN", () => {
    expect(() => studentTCumulative(1, 0)).toThrow(/df above 0/);
    expect(() => normalQuantile(97.5)).toThrow(/share such as 0.975/);
    expect(studentTCumulative(Number.NaN, 3)).toBeNaN();
    expect(normalQuantile(Number.NaN)).toBeNaN();
  });
});
