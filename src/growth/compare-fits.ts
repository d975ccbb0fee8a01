import { type Notice, notice } from "../core/notice.js";
import { requireResult } from "../core/require-result.js";
import { curveTitle } from "./curve-catalogue.js";
import type { CurveFit, FitStatus } from "./curve-fit-value.js";
import { type ResidualPattern, residualPattern } from "./residual-pattern.js";

export interface RankedFit {
  readonly curve: string;
  readonly status: FitStatus;
  readonly converged: boolean;
  readonly identified: boolean;
  readonly asymptoteIdentified: boolean | null;
  readonly parameters: number;
  readonly aicc: number | null;
  /** AICc above the lowest one. */
  readonly behind: number | null;
  /** Akaike weight among those ranked. */
  readonly weight: number | null;
  readonly residualSd: number | null;
  readonly pattern: ResidualPattern | null;
  /** Why it has no rank. */
  readonly notRanked: Notice | null;
}

export interface FitComparison {
  /** Name of the chosen curve, `null` where nothing could be ranked. */
  readonly chosen: string | null;
  /** Ranked ones by AICc, then those without a rank. */
  readonly ranking: readonly RankedFit[];
  /** The choice explained: two sentences. */
  readonly explanation: readonly Notice[];
}

/**
 * Ranks fits to the same data by AICc and lets a residual pattern speak: among
 * curves within 2 of the lowest AICc the one with fewest parameters; but if its
 * residuals bend (too few runs, p < 0.01) and another's within 10 do not, that
 * one. Fits to other data or with another error structure are not ranked.
 *
 * Source: Burnham and Anderson, Model Selection and Multimodel Inference (2002),
 * section 2.6 (differences of 2 and 10).
 *
 * @example
 * const ages = [5, 12, 19, 26, 33, 40], masses = [2400, 3010, 3720, 4480, 5270, 6060];
 * const fits = ["gompertz", "linear"].map((curve) => fitCurve({ ages, masses }, { curve }));
 * compareFits(fits).ranking.length // 2
 */
export function compareFits(fits: readonly CurveFit[]): FitComparison {
  for (const fit of fits) requireResult("compareFits", "fit-curve", fit);
  const first = fits.find((each) => each.value.converged) ?? fits[0];
  const rows: RankedFit[] = fits.map((fit) => {
    const { value } = fit;
    const notRanked = first === undefined ? null : reasonNotToRank(fit, first);
    const { residuals, rootWeights } = value.points;
    const standard = residuals.map((each, i) => each * (rootWeights?.[i] ?? 1));
    return {
      curve: value.curve,
      status: value.status,
      converged: value.converged,
      identified: value.identified,
      asymptoteIdentified: value.asymptoteIdentified,
      parameters: value.estimates.filter((each) => !each.fixed).length,
      aicc: value.aicc,
      behind: null,
      weight: null,
      residualSd: value.residualSd.value,
      pattern: value.converged ? residualPattern(standard) : null,
      notRanked,
    };
  });
  const ranked = rows.filter((each) => each.notRanked === null).sort((a, b) => a.aicc! - b.aicc!);
  const rest = rows.filter((each) => each.notRanked !== null);
  const lowest = ranked[0];
  if (lowest === undefined) {
    const why = notice("growth-choice-none", "problem", {
      curves: rest.map((each) => curveTitle(each.curve)),
    });
    return { chosen: null, ranking: rest, explanation: [why] };
  }
  const total = ranked.reduce((sum, each) => sum + Math.exp((lowest.aicc! - each.aicc!) / 2), 0);
  const full = ranked.map((each) => ({
    ...each,
    behind: each.aicc! - lowest.aicc!,
    weight: Math.exp((lowest.aicc! - each.aicc!) / 2) / total,
  }));
  const near = full.filter((each) => each.behind <= 2);
  const simplest = near.reduce((a, b) => (b.parameters < a.parameters ? b : a));
  const unbent = full.filter((each) => each.behind <= 10 && each.pattern?.bent === false);
  const chosen = simplest.pattern?.bent === true && unbent[0] !== undefined ? unbent[0] : simplest;
  return {
    chosen: chosen.curve,
    ranking: [...full, ...rest],
    explanation: explain(chosen, simplest, full, rest),
  };
}

function reasonNotToRank(fit: CurveFit, first: CurveFit): Notice | null {
  const { value } = fit;
  const curve = curveTitle(value.curve);
  if (!value.converged)
    return notice("growth-not-ranked-failed", "info", { curve, status: value.status });
  const mine = value.points;
  const theirs = first.value.points;
  const same = (a: readonly number[], b: readonly number[]) =>
    a.length === b.length && a.every((each, i) => each === b[i]);
  if (!same(mine.masses, theirs.masses) || !same(mine.ages, theirs.ages)) {
    return notice("growth-not-ranked-data", "caution", {
      curve,
      against: curveTitle(first.value.curve),
    });
  }
  if (value.loss !== "squares") return notice("growth-not-ranked-robust", "caution", { curve });
  if (
    value.errors !== first.value.errors ||
    !same(mine.rootWeights ?? [], theirs.rootWeights ?? []) ||
    (value.serial === null) !== (first.value.serial === null)
  ) {
    return notice("growth-not-ranked-errors", "caution", {
      curve,
      against: curveTitle(first.value.curve),
    });
  }
  if (value.aicc === null) return notice("growth-not-ranked-no-aicc", "info", { curve });
  return null;
}

function explain(
  chosen: RankedFit,
  simplest: RankedFit,
  ranked: readonly RankedFit[],
  rest: readonly RankedFit[],
): Notice[] {
  const next = ranked.find((each) => each.curve !== chosen.curve);
  const about = {
    curve: curveTitle(chosen.curve),
    parameters: chosen.parameters,
    aicc: chosen.aicc,
    behind: chosen.behind,
    lowest: curveTitle(ranked[0]!.curve),
    next: next === undefined ? "none" : curveTitle(next.curve),
    nextBehind: next === undefined ? null : next.aicc! - chosen.aicc!,
    ranked: ranked.length,
  };
  const why =
    chosen !== simplest
      ? notice("growth-choice-by-pattern", "info", { ...about, bent: curveTitle(simplest.curve) })
      : chosen.behind! > 0
        ? notice("growth-choice-simpler", "info", about)
        : notice(next === undefined ? "growth-choice-only" : "growth-choice-lowest", "info", about);
  const failed = rest.map((each) => curveTitle(each.curve));
  const second =
    chosen.pattern?.bent === true
      ? notice("growth-choice-still-bent", "caution", {
          curve: about.curve,
          runs: chosen.pattern.runs,
        })
      : chosen.asymptoteIdentified === false
        ? notice("growth-choice-asymptote", "caution", { curve: about.curve })
        : failed.length > 0
          ? notice("growth-choice-failures", "info", { failed, count: failed.length })
          : notice("growth-choice-all-fitted", "info", { count: ranked.length });
  return [why, second];
}
