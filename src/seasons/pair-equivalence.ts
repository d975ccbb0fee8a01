import type { Interval } from "../core/measured.js";
import { studentTCumulative, studentTQuantile } from "../stats/distributions/student-t.js";
import type { PairEstimate } from "./pair-estimate.js";

/** Two one-sided tests against a margin set beforehand. */
export interface Equivalence {
  readonly margin: number;
  readonly p: number;
  readonly shown: boolean;
  /** Inside the margin on both sides: grown alike. */
  readonly interval: Interval;
}

/**
 * Schuirmann's two one-sided tests: alike when both one-sided p are below 1 -
 * level. Of several estimates (births at both ends of their ranges) the least
 * favourable counts.
 *
 * Schuirmann DJ (1987) J Pharmacokinet Biopharm 15:657-680.
 */
export function pairEquivalence(
  estimates: readonly Pick<PairEstimate, "difference" | "se" | "df">[],
  margin: number,
  level: number,
): Equivalence {
  const one = estimates.map(({ difference, se, df }) => {
    const t = studentTQuantile(level, df);
    return {
      p: Math.max(
        studentTCumulative((difference + margin) / se, df, "upper"),
        studentTCumulative((difference - margin) / se, df, "lower"),
      ),
      lower: difference - t * se,
      upper: difference + t * se,
    };
  });
  const p = Math.max(...one.map((e) => e.p));
  return {
    margin,
    p,
    shown: p < 1 - level,
    interval: {
      lower: Math.min(...one.map((e) => e.lower)),
      upper: Math.max(...one.map((e) => e.upper)),
      level: 1 - 2 * (1 - level),
    },
  };
}
