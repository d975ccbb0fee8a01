import { type Notice, notice } from "../core/notice.js";
import type { Result } from "../core/result.js";
import { quantile } from "../stats/descriptive/quantile.js";
import { type Matrix, makeMatrix } from "../stats/linear-algebra/matrix.js";
import { fitLms, type LmsCurve, type LmsFit } from "../stats/lms/lms-fit.js";
import { lmsZ } from "../stats/lms/lms-z.js";
import { quantileRegression } from "../stats/quantile-regression/quantile-regression.js";
import { bSplineBasis, naturalSplineBasis } from "../stats/smoothing/spline-basis.js";
import { checkReference, type ReferenceCheck } from "./check-reference.js";
import type { ReferenceRow, ReferenceTable } from "./reference-table.js";

/** One mass of one animal at one age. */
export interface ReferencePoint {
  readonly animalId: string;
  readonly ageD: number;
  readonly massG: number;
}

export interface BuiltReference {
  readonly table: ReferenceTable;
  readonly check: ReferenceCheck;
  /** Centiles by quantile regression, made so that they cannot cross, at the table's ages. */
  readonly centiles: readonly {
    readonly share: number;
    readonly points: readonly { readonly ageD: number; readonly massG: number }[];
  }[];
}

export interface BuildReferenceOptions {
  readonly title?: string;
  /** Power L: estimated as one number, or fixed. Default: fixed at 0 below 50 animals, else estimated. */
  readonly power?: "estimated" | number;
  /** Centiles by quantile regression. Default 0.03, 0.1, 0.25, 0.5, 0.75, 0.9, 0.97. */
  readonly centiles?: readonly number[];
}

/**
 * Builds a mass-for-age reference from weighed animals: L, M and S smooth in age
 * by penalised likelihood (cubic B-splines, second-difference penalties, their
 * weights chosen by the Bayesian information criterion with animals as the sample
 * size), as a table for every whole day of age seen. Beside it stand centiles by
 * quantile regression that cannot cross: a median curve, a positive curve of
 * spread, and the quantiles of what remains. Ages outside the data are not
 * covered. Fewer than 50 animals support M and S only, which is said.
 *
 * Sources: Cole and Green (1992) Stat Med 11:1305-1319; He (1997) American
 * Statistician 51:186-192 for the curves that cannot cross.
 *
 * @example buildReference(points).value.table.rows[0] // { ageD: 3, l: 0, m: 1893.2, s: 0.104 }
 */
export function buildReference(
  points: readonly ReferencePoint[],
  options: BuildReferenceOptions = {},
): Result<"build-reference", BuiltReference | null> {
  const usable = points.filter((p) => p.massG > 0 && Number.isFinite(p.ageD));
  const animals = new Set(usable.map((p) => p.animalId)).size;
  const notices: Notice[] = [];
  const title = options.title ?? "Own seasons";
  const shares = options.centiles ?? [0.03, 0.1, 0.25, 0.5, 0.75, 0.9, 0.97];
  const envelope = (value: BuiltReference | null, diagnostics: Record<string, unknown>) => ({
    kind: "build-reference" as const,
    schema: 1,
    value,
    method: {
      name: "LMS by penalised likelihood; quantile curves that cannot cross",
      options: { title, power: options.power ?? null, centiles: shares },
      citations: ["Cole and Green (1992) Stat Med 11:1305-1319", "He (1997) Am Stat 51:186-192"],
    },
    basis: {
      used: usable.length,
      leftOut:
        points.length > usable.length
          ? [{ reason: "no age or mass", count: points.length - usable.length }]
          : [],
      of: "weighings",
    },
    diagnostics,
    notices,
  });
  if (usable.length < 20 || animals < 3) {
    notices.push(notice("reference-too-small", "problem", { n: usable.length, animals }));
    return envelope(null, {});
  }
  const ages = usable.map((p) => p.ageD);
  const masses = usable.map((p) => p.massG);
  const from = Math.min(...ages);
  const to = Math.max(...ages);
  const power = options.power ?? (animals < 50 ? 0 : "estimated");
  if (animals < 50) notices.push(notice("reference-few-animals", "caution", { n: animals, title }));
  if (new Set(usable.map((p) => p.animalId)).size < usable.length) {
    notices.push(notice("reference-repeated", "info", { n: usable.length, animals }));
  }
  const interior = knots(from, to);
  const boundary = [from, to] as const;
  const n = usable.length;
  const columns = bSplineBasis(ages, { knots: interior, boundary });
  const roughness = secondDifferences(columns.cols);
  const ones: LmsCurve = {
    columns: makeMatrix(n, 1, new Float64Array(n).fill(1)),
    link: "identity",
    penalty: null,
    ...(power === "estimated" ? {} : { fixed: [power] }),
  };
  // Animals, not weighings, are the independent sample: weighings of one animal repeat each other.
  const price = Math.log(animals);
  const share = animals / n;
  let best: { fit: LmsFit; criterion: number; weights: readonly [number, number] } | null = null;
  const grid = [1e-2, 1, 1e2, 1e4];
  for (const wm of grid) {
    for (const ws of grid.slice(1)) {
      const fit = fitLms(
        masses,
        ones,
        { columns, link: "log", penalty: scaled(roughness, wm / share) },
        { columns, link: "log", penalty: scaled(roughness, ws / share) },
        { maxIterations: 60, tolerance: 1e-7 },
      );
      if (!Number.isFinite(fit.logLikelihood)) continue;
      const criterion = -2 * fit.logLikelihood * share + price * fit.effective;
      if (best === null || criterion < best.criterion) best = { fit, criterion, weights: [wm, ws] };
    }
  }
  if (best === null) {
    notices.push(notice("reference-no-fit", "problem", { n, animals }));
    return envelope(null, {});
  }
  const days: number[] = [];
  for (let d = Math.ceil(from); d <= to; d++) days.push(d);
  if (days.length < 2) {
    notices.push(notice("reference-too-small", "problem", { n, animals }));
    return envelope(null, {});
  }
  const at = bSplineBasis(days, { knots: interior, boundary });
  const curve = (coefficients: readonly number[], i: number) => {
    let sum = 0;
    for (let k = 0; k < at.cols; k++) sum += at.data[i * at.cols + k]! * coefficients[k]!;
    return Math.exp(sum);
  };
  const chosen = best.fit;
  const { coefficients } = chosen;
  const rows: ReferenceRow[] = days.map((ageD, i) => ({
    ageD,
    l: coefficients.l[0]!,
    m: curve(coefficients.m, i),
    s: curve(coefficients.s, i),
  }));
  const zs = usable.map((p, i) => ({
    ageD: p.ageD,
    z: lmsZ(p.massG, { l: chosen.l[i]!, m: chosen.m[i]!, s: chosen.s[i]! }) ?? Number.NaN,
  }));
  return envelope(
    {
      table: { title, source: `${animals} animals, ${n} weighings`, unit: "g", animals, rows },
      check: checkReference(zs, Math.max(2, Math.min(6, Math.floor(n / 40)))),
      centiles: centilesThatCannotCross(ages, masses, days, shares),
    },
    {
      stoppedBy: best.fit.stoppedBy,
      iterations: best.fit.iterations,
      effective: best.fit.effective,
      penaltyWeights: best.weights,
      logLikelihood: best.fit.logLikelihood,
    },
  );
}

/**
 * Median curve m(age), then a positive curve of spread s(age) from the median of
 * ln |residual|, then one number per share: the quantile of residual / s. The
 * curves m + c s keep the order of c at every age.
 */
export function centilesThatCannotCross(
  ages: readonly number[],
  masses: readonly number[],
  at: readonly number[],
  shares: readonly number[],
): BuiltReference["centiles"] {
  const from = Math.min(...ages);
  const to = Math.max(...ages);
  const spline = {
    knots: knots(from, to)
      .filter((_, i) => i % 2 === 1)
      .slice(0, 3),
    boundary: [from, to] as const,
  };
  const columns = naturalSplineBasis(ages, spline);
  const logs = masses.map(Math.log);
  const middle = quantileRegression(columns, logs, 0.5).coefficients;
  const value = (matrix: Matrix, i: number, b: readonly number[]) =>
    b.reduce((sum, c, k) => sum + c * matrix.data[i * matrix.cols + k]!, 0);
  const residuals = logs.map((y, i) => y - value(columns, i, middle));
  const straight = makeMatrix(ages.length, 2, Float64Array.from(ages.flatMap((a) => [1, a])));
  const floor = Math.max(1e-6, quantile(residuals.map(Math.abs), 0.1) ?? 0);
  const spread = quantileRegression(
    straight,
    residuals.map((r) => Math.log(Math.max(Math.abs(r), floor))),
    0.5,
  ).coefficients;
  const standard = residuals.map((r, i) => r / Math.exp(value(straight, i, spread)));
  const there = naturalSplineBasis(at, spline);
  return shares.map((share) => {
    const c = quantile(standard, share) ?? 0;
    return {
      share,
      points: at.map((ageD, i) => ({
        ageD,
        massG: Math.exp(value(there, i, middle) + c * Math.exp(spread[0]! + spread[1]! * ageD)),
      })),
    };
  });
}

function knots(from: number, to: number): number[] {
  const pieces = Math.max(2, Math.min(10, Math.round((to - from) / 12)));
  return Array.from({ length: pieces - 1 }, (_, i) => from + ((i + 1) * (to - from)) / pieces);
}

function secondDifferences(size: number): Matrix {
  const out = makeMatrix(size, size);
  const w = [1, -2, 1];
  for (let r = 0; r + 2 < size; r++) {
    for (let a = 0; a < 3; a++) {
      for (let b = 0; b < 3; b++) out.data[(r + a) * size + r + b]! += w[a]! * w[b]!;
    }
  }
  return out;
}

function scaled(matrix: Matrix, factor: number): Matrix {
  return makeMatrix(
    matrix.rows,
    matrix.cols,
    matrix.data.map((v) => v * factor),
  );
}
