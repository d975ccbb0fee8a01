import { normal95 } from "../core/measured.js";
import { chiSquaredCumulative } from "../stats/distributions/chi-squared.js";
import { normalDensity, normalQuantile } from "../stats/distributions/normal.js";

export interface WormPoint {
  /** Expected normal quantile of the ordered z. */
  readonly expected: number;
  /** z minus expected. */
  readonly deviation: number;
  /** Half width of the pointwise 95 % band. */
  readonly band: number;
}

export interface WormGroup {
  readonly fromD: number;
  readonly toD: number;
  readonly n: number;
  readonly points: readonly WormPoint[];
  /** Standard normal where the reference fits: mean, spread and skewness of the group. */
  readonly zMean: number;
  readonly zSpread: number;
  readonly zSkewness: number | null;
}

export interface ReferenceCheck {
  readonly groups: readonly WormGroup[];
  /** Sums of squares of the groups' z for mean, spread and skewness, with upper tail probabilities. */
  readonly q: readonly {
    readonly of: "mean" | "spread" | "skewness";
    readonly value: number;
    readonly df: number;
    readonly p: number;
  }[];
}

/**
 * Worm plot and Q statistics of a reference: are the z-scores of the animals that
 * made it standard normal at every age? Ages are cut into groups of equal number;
 * in each the ordered z are held against normal quantiles, and mean, spread and
 * skewness are turned into standard normal values whose squares add up to Q.
 * Values of one animal at neighbouring ages are not independent, so a small p is a
 * reason to look at the worms, not a verdict.
 *
 * Sources: van Buuren and Fredriks (2001) Stat Med 20:1259-1277 (worm plot); Royston
 * and Wright (2000) Stat Med 19:2943-2962 (Q); D'Agostino (1970) for the skewness.
 *
 * @example checkReference(points, 4).q[0].p // 0.62
 */
export function checkReference(
  points: readonly { readonly ageD: number; readonly z: number }[],
  groups = 4,
  effective: { readonly m: number; readonly s: number; readonly l: number } = { m: 0, s: 0, l: 0 },
): ReferenceCheck {
  const sorted = points.filter((p) => Number.isFinite(p.z)).sort((a, b) => a.ageD - b.ageD);
  const size = sorted.length / groups;
  const out: WormGroup[] = [];
  for (let g = 0; g < groups; g++) {
    const part = sorted.slice(Math.round(g * size), Math.round((g + 1) * size));
    const n = part.length;
    if (n < 3) continue;
    const z = part.map((p) => p.z).sort((a, b) => a - b);
    const mean = z.reduce((a, b) => a + b, 0) / n;
    const m2 = z.reduce((a, b) => a + (b - mean) ** 2, 0) / n;
    const m3 = z.reduce((a, b) => a + (b - mean) ** 3, 0) / n;
    const sd = Math.sqrt((m2 * n) / (n - 1));
    const c = 2 / (9 * n - 9);
    out.push({
      fromD: part[0]!.ageD,
      toD: part[n - 1]!.ageD,
      n,
      points: z.map((value, i) => {
        const p = (i + 0.5) / n;
        const expected = normalQuantile(p);
        return {
          expected,
          deviation: value - expected,
          band: (normal95 * Math.sqrt((p * (1 - p)) / n)) / normalDensity(expected),
        };
      }),
      zMean: Math.sqrt(n) * mean,
      zSpread: (sd ** (2 / 3) - (1 - c)) / Math.sqrt(c),
      zSkewness: n >= 8 && m2 > 0 ? skewnessZ(m3 / m2 ** 1.5, n) : null,
    });
  }
  const sum = (
    of: "mean" | "spread" | "skewness",
    pick: (w: WormGroup) => number | null,
    used: number,
  ) => {
    const values = out.flatMap((w) => pick(w) ?? []);
    const value = values.reduce((a, b) => a + b * b, 0);
    const df = Math.max(1, values.length - used);
    return { of, value, df, p: chiSquaredCumulative(value, df, "upper") };
  };
  return {
    groups: out,
    q: [
      sum("mean", (w) => w.zMean, effective.m),
      sum("spread", (w) => w.zSpread, (effective.s + 1) / 2),
      sum("skewness", (w) => w.zSkewness, effective.l),
    ],
  };
}

/** Skewness of a normal sample as a standard normal value. */
function skewnessZ(skewness: number, n: number): number {
  const y = skewness * Math.sqrt(((n + 1) * (n + 3)) / (6 * (n - 2)));
  const b2 =
    (3 * (n * n + 27 * n - 70) * (n + 1) * (n + 3)) / ((n - 2) * (n + 5) * (n + 7) * (n + 9));
  const w2 = -1 + Math.sqrt(2 * (b2 - 1));
  const delta = 1 / Math.sqrt(0.5 * Math.log(w2));
  const alpha = Math.sqrt(2 / (w2 - 1));
  return delta * Math.asinh(y / alpha);
}
