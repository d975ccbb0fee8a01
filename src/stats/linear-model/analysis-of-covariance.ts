import { fCumulative } from "../distributions/f.js";
import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";
import { buildDesign, type DesignVariables, type FixedDesign } from "./design.js";
import { fitLinearModel, type LinearModel } from "./fit-linear-model.js";

/** A term: one variable, or the interaction of several. */
export type Term = readonly string[];

/**
 * Which sums of squares: 1 takes the terms in order; 2 adjusts each for all terms
 * that do not contain it; 3 adjusts each for all others (factors coded to add to zero).
 */
export type SumsOfSquares = 1 | 2 | 3;

export interface TermTest {
  readonly term: string;
  readonly df: number;
  readonly squares: number;
  readonly f: number | null;
  readonly p: number | null;
}

export interface CovarianceAnalysis {
  /** The fit with factors coded against their first level. */
  readonly model: LinearModel;
  readonly design: FixedDesign;
  readonly tests: readonly TermTest[];
  readonly dfResidual: number;
  readonly rss: number;
  readonly variables: DesignVariables;
}

/**
 * Analysis of variance or covariance of y on factors and numbers; terms of lower
 * order come first, otherwise the order given is kept.
 *
 * @throws UsageError when variables, terms and y do not fit each other.
 * @example analyseCovariance(y, { baseline, group }, [["baseline"], ["group"]]).tests[1].p
 */
export function analyseCovariance(
  y: ArrayLike<number>,
  variables: DesignVariables,
  terms: readonly Term[],
  options: { readonly type?: SumsOfSquares; readonly weights?: ArrayLike<number> } = {},
): CovarianceAnalysis {
  const { type = 2 } = options;
  const more = options.weights === undefined ? {} : { weights: options.weights };
  const ordered = terms.slice().sort((a, b) => a.length - b.length);
  const design = buildDesign(variables, ordered);
  const model = fitLinearModel(design.matrix, y, { ...more, intercept: true });
  const coded = type === 3 ? buildDesign(variables, ordered, { coding: "sum" }) : design;
  const fitted = new Map<string, { rss: number; rank: number }>();
  /** Residual squares of the model that keeps only the terms named true (the constant always). */
  const fitOf = (keep: (t: number) => boolean) => {
    const columns = [0, ...coded.terms.flatMap((term, t) => (keep(t) ? term.columns : []))];
    const key = columns.join(",");
    const known = fitted.get(key);
    if (known !== undefined) return known;
    const { rss, rank } = fitLinearModel(pickColumns(coded.matrix, columns), y, {
      ...more,
      intercept: true,
    });
    fitted.set(key, { rss, rank });
    return { rss, rank };
  };
  const contains = (a: Term, b: Term) => b.every((name) => a.includes(name));
  const tests = ordered.map((term, t): TermTest => {
    const others = (s: number) => {
      if (type === 1) return s < t;
      if (type === 2) return s !== t && !contains(ordered[s]!, term);
      return s !== t;
    };
    const without = fitOf(others);
    const with_ = fitOf((s) => s === t || others(s));
    const df = with_.rank - without.rank;
    const squares = Math.max(0, without.rss - with_.rss);
    const f =
      df > 0 && model.dfResidual > 0 && model.rss > 0
        ? squares / df / (model.rss / model.dfResidual)
        : null;
    return {
      term: coded.terms[t]!.name,
      df,
      squares,
      f,
      p: f === null ? null : fCumulative(f, df, model.dfResidual, "upper"),
    };
  });
  return { model, design, tests, dfResidual: model.dfResidual, rss: model.rss, variables };
}

function pickColumns(x: Matrix, columns: readonly number[]): Matrix {
  const out = makeMatrix(x.rows, columns.length);
  for (let i = 0; i < x.rows; i++) {
    columns.forEach((j, k) => {
      out.data[i * columns.length + k] = x.data[i * x.cols + j]!;
    });
  }
  return out;
}
