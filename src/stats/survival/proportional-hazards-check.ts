import { chiSquaredCumulative } from "../distributions/chi-squared.js";
import { choleskyFactor, solveCholesky } from "../linear-algebra/cholesky.js";
import { type Matrix, makeMatrix } from "../linear-algebra/matrix.js";
import type { CoxRegression } from "./cox-regression.js";
import { walkEventTimes } from "./cox-risk-sets.js";
import { kaplanMeier, survivalAt } from "./kaplan-meier.js";
import type { SurvivalData } from "./survival-data.js";

export interface ProportionalHazardsTest {
  readonly term: string;
  readonly chiSquared: number | null;
  readonly df: number;
  readonly p: number | null;
}

/**
 * Score test that the effects do not change with time: each term's columns are
 * allowed a slope on 1 - S(t) (S the Kaplan-Meier curve of all rows). The last
 * entry tests all terms at once. Source: Grambsch and Therneau (1994), score form.
 *
 * `terms` names which columns belong together; default one term per column.
 *
 * @example
 * const data = { time: [4, 5, 7, 9, 11, 12], event: [1, 1, 0, 1, 1, 0] }, x = matrixFromRows([[1], [0], [1], [0], [1], [0]]);
 * proportionalHazardsCheck(data, x, coxRegression(data, x)).at(-1).p // 0.883387
 */
export function proportionalHazardsCheck(
  data: SurvivalData,
  x: Matrix,
  fit: CoxRegression,
  options: {
    readonly strata?: readonly string[];
    readonly terms?: readonly { readonly name: string; readonly columns: readonly number[] }[];
  } = {},
): ProportionalHazardsTest[] {
  const p = x.cols;
  const terms =
    options.terms ?? Array.from({ length: p }, (_, j) => ({ name: `column ${j}`, columns: [j] }));
  const names = options.strata === undefined ? [] : [...new Set(options.strata)];
  const layer = Array.from({ length: x.rows }, (_, i) =>
    options.strata === undefined ? 0 : names.indexOf(options.strata[i]!),
  );
  const curve = kaplanMeier(data);
  const eta = new Float64Array(x.rows);
  for (let i = 0; i < x.rows; i++) {
    for (let j = 0; j < p; j++) eta[i]! += x.data[i * p + j]! * fit.coefficients[j]!;
  }
  const middle = eta.reduce((s, v) => s + v, 0) / eta.length;
  const times: { g: number; d: number; score: Float64Array; information: Float64Array }[] = [];
  walkEventTimes(
    data,
    x,
    layer,
    eta.map((v) => v - middle),
    fit.ties,
    (e) => {
      // S just before the event time.
      const before = curve.steps.filter((s) => s.time < e.time).at(-1)?.time;
      const g = before === undefined ? 0 : 1 - survivalAt(curve, before);
      times.push({ g, d: e.deaths.length, score: e.score, information: e.information });
    },
  );
  const events = times.reduce((s, t) => s + t.d, 0);
  const mean = times.reduce((s, t) => s + t.g * t.d, 0) / events;
  const size = 2 * p;
  const u = new Float64Array(size);
  const info = new Float64Array(size * size);
  for (const t of times) {
    const g = t.g - mean;
    for (let j = 0; j < p; j++) {
      u[p + j]! += g * t.score[j]!;
      for (let k = 0; k < p; k++) {
        const v = t.information[j * p + k]!;
        info[j * size + k]! += v;
        info[j * size + p + k]! += g * v;
        info[(p + j) * size + k]! += g * v;
        info[(p + j) * size + p + k]! += g * g * v;
      }
    }
  }
  const test = (term: string, columns: readonly number[]): ProportionalHazardsTest => {
    const df = columns.length;
    const used = [...Array.from({ length: p }, (_, j) => j), ...columns.map((j) => p + j)];
    const m = makeMatrix(
      used.length,
      used.length,
      used.flatMap((a) => used.map((b) => info[a * size + b]!)),
    );
    const l = choleskyFactor(m, 1e-12);
    if (l === null) return { term, chiSquared: null, df, p: null };
    const s = used.map((a) => (a < p ? 0 : u[a]!));
    const solved = solveCholesky(l, s);
    const chiSquared = s.reduce((sum, v, i) => sum + v * solved[i]!, 0);
    return { term, chiSquared, df, p: chiSquaredCumulative(chiSquared, df, "upper") };
  };
  return [
    ...terms.map((t) => test(t.name, t.columns)),
    test(
      "all",
      Array.from({ length: p }, (_, j) => j),
    ),
  ];
}
