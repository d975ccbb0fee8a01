import type { Interval } from "../../core/measured.js";
import { UsageError } from "../../core/usage-error.js";
import { studentTQuantile, studentTTwoSided } from "../distributions/student-t.js";
import { studentizedRangeCumulative } from "../distributions/studentized-range.js";
import { type Adjustment, adjustPValues } from "../hypothesis-tests/adjust-p-values.js";
import { pairsOf } from "../hypothesis-tests/pairwise-comparisons.js";
import type { CovarianceAnalysis } from "./analysis-of-covariance.js";
import { meanRow } from "./mean-row.js";
import { linearCombination } from "./predict-linear-model.js";

export interface AdjustedMean {
  readonly level: string;
  readonly mean: number;
  readonly se: number | null;
  readonly df: number;
  readonly interval: Interval;
}

export interface AdjustedContrast {
  /** Levels compared: the first minus the second. */
  readonly levels: readonly [string, string];
  readonly difference: number;
  readonly se: number | null;
  readonly t: number | null;
  readonly p: number | null;
}

export interface AdjustedMeans {
  readonly means: readonly AdjustedMean[];
  readonly contrasts: readonly AdjustedContrast[];
}

export interface AdjustedMeansOptions {
  /** Values of the covariates; default their means. */
  readonly at?: Readonly<Record<string, number>>;
  readonly level?: number;
  /** How the contrasts' p-values are adjusted. Default Tukey's (studentised range). */
  readonly adjustment?: Adjustment | "tukey";
}

/**
 * Means of a factor's levels at common values of the covariates, other factors
 * weighted equally, with all pairwise contrasts.
 *
 * @throws UsageError when the factor is not in the analysis.
 * @example
 * const day = { kind: "number", values: [1, 2, 3, 1, 2, 3] };
 * const diet = { kind: "factor", values: ["a", "a", "a", "b", "b", "b"] };
 * const analysis = analyseCovariance([1, 2, 3, 3, 4, 6], { day, diet }, [["day"], ["diet"]]);
 * adjustedMeans(analysis, "diet").means[1].mean // 4.33333
 */
export function adjustedMeans(
  analysis: CovarianceAnalysis,
  factor: string,
  options: AdjustedMeansOptions = {},
): AdjustedMeans {
  const { at = {}, level = 0.95, adjustment = "tukey" } = options;
  const { variables, model, design } = analysis;
  const levels = design.levels[factor];
  if (levels === undefined) {
    throw new UsageError({
      needed: "a factor of the analysis",
      came: `"${factor}" is none`,
      where: "adjustedMeans",
      todo: `Take one of ${Object.keys(design.levels).join(", ")}.`,
    });
  }
  const rows = levels.map((l) => meanRow(design, variables, factor, l, at));
  const df = model.dfResidual;
  const t = df > 0 ? studentTQuantile((1 + level) / 2, df) : null;
  const means = rows.map((row, i): AdjustedMean => {
    const { value, se } = linearCombination(model, row);
    const half = se === null || t === null ? null : t * se;
    return {
      level: levels[i]!,
      mean: value,
      se,
      df,
      interval: {
        lower: half === null ? null : value - half,
        upper: half === null ? null : value + half,
        level,
      },
    };
  });
  const raw = pairsOf(levels.length).map(([i, j]) => {
    const row = rows[i]!.map((v, k) => v - rows[j]![k]!);
    const { value, se } = linearCombination(model, row);
    const ratio = se !== null && se > 0 ? value / se : null;
    return { levels: [levels[i]!, levels[j]!] as const, difference: value, se, t: ratio };
  });
  const p =
    adjustment === "tukey"
      ? raw.map(({ t: r }) =>
          r === null
            ? null
            : studentizedRangeCumulative(Math.abs(r) * Math.SQRT2, levels.length, df, "upper"),
        )
      : adjustPValues(
          raw.map(({ t: r }) => (r === null ? null : studentTTwoSided(r, df))),
          adjustment,
        );
  return { means, contrasts: raw.map((c, k) => ({ ...c, p: p[k]! })) };
}
