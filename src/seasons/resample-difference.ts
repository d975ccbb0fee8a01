import { type LongWork, stopIfCancelled } from "../core/long-work.js";
import { type Random, seededRandom } from "../core/random.js";
import { quantile } from "../stats/descriptive/quantile.js";
import { householderQr, solveQr } from "../stats/linear-algebra/householder-qr.js";
import { matrixFromRows } from "../stats/linear-algebra/matrix.js";
import type { AdjustedModel } from "./adjusted-model.js";

export interface ResampleOptions extends LongWork {
  /** Random reorderings, and bootstrap samples. Default 1999 each. */
  readonly runs?: number;
  readonly level?: number;
}

export interface ResampledDifference {
  /** Share of reorderings with a |t| at least as large, the data's own included. */
  readonly permutationP: number;
  /** Bootstrap-t interval of the adjusted difference, g/d. */
  readonly bootstrap: { readonly lower: number; readonly upper: number; readonly level: number };
  readonly runs: number;
  readonly seed: number;
}

/**
 * Checks one adjusted difference without the normal curve.
 *
 * Permutation: residuals of the model in which the two seasons are one are put
 * in random order, added to its fitted values, and t is computed anew (Freedman
 * D, Lane D (1983) J Bus Econ Stat 1:292-298). Bootstrap: residuals of the full
 * model, enlarged for the freedom the fit took, drawn with replacement within
 * each season; percentile-t interval (Efron B, Tibshirani R (1993) An
 * Introduction to the Bootstrap, ch. 12).
 */
export function resampleDifference(
  model: AdjustedModel,
  from: string,
  to: string,
  options: ResampleOptions = {},
): ResampledDifference {
  const runs = options.runs ?? 1999;
  const seed = options.seed ?? 1;
  const level = options.level ?? 0.95;
  const random = seededRandom(seed);
  const a = model.seasons.indexOf(from);
  const b = model.seasons.indexOf(to);
  const t = statistic(model, a, b);
  const observed = t(model.response);

  const merged = model.design.map((row) => [
    row[a]! + row[b]!,
    ...row.filter((_, j) => j !== a && j !== b),
  ]);
  const common = solveQr(householderQr(matrixFromRows(merged)), model.response);
  const fitted = merged.map((row) => row.reduce((s, x, j) => s + x * (common[j] ?? 0), 0));
  const residuals = model.response.map((y, i) => y - fitted[i]!);
  let asLarge = 1;
  for (let run = 0; run < runs; run++) {
    if (run % 256 === 0) report(options, run, 2 * runs, "reordering");
    const order = random.shuffled(residuals);
    const y = fitted.map((f, i) => f + order[i]!);
    if (Math.abs(t(y).t) >= Math.abs(observed.t) - 1e-12) asLarge++;
  }

  const groups = model.seasons.map((_, s) =>
    model.design.flatMap((row, i) => (row[s] === 1 ? [i] : [])),
  );
  const inflate = Math.sqrt(model.n / model.df);
  const ts: number[] = [];
  for (let run = 0; run < runs; run++) {
    if (run % 256 === 0) report(options, runs + run, 2 * runs, "bootstrap");
    const at = t(bootstrapResponse(model, groups, inflate, random));
    if (Number.isFinite(at.t)) ts.push((at.difference - observed.difference) / at.se);
  }
  const tail = (1 - level) / 2;
  return {
    permutationP: asLarge / (runs + 1),
    bootstrap: {
      lower: observed.difference - quantile(ts, 1 - tail)! * observed.se,
      upper: observed.difference - quantile(ts, tail)! * observed.se,
      level,
    },
    runs,
    seed,
  };
}

/** Everything that does not change from sample to sample is worked out once. */
function statistic(model: AdjustedModel, a: number, b: number) {
  const x = model.design;
  const p = x[0]!.length;
  const n = model.n;
  const v = model.unscaled;
  // Coefficients are linear in the response: one row of weights for each.
  const weights = v.map((row) =>
    x.map((xi) => {
      let w = 0;
      for (let j = 0; j < p; j++) w += row[j]! * xi[j]!;
      return w;
    }),
  );
  const factor = Math.sqrt(v[a]![a]! + v[b]![b]! - 2 * v[a]![b]!);
  const beta = new Float64Array(p);
  return (y: readonly number[]) => {
    for (let j = 0; j < p; j++) {
      const row = weights[j]!;
      let sum = 0;
      for (let i = 0; i < n; i++) sum += row[i]! * y[i]!;
      beta[j] = sum;
    }
    let rss = 0;
    for (let i = 0; i < n; i++) {
      const xi = x[i]!;
      let e = y[i]!;
      for (let j = 0; j < p; j++) e -= xi[j]! * beta[j]!;
      rss += e * e;
    }
    const difference = beta[b]! - beta[a]!;
    const se = factor * Math.sqrt(rss / model.df);
    return { difference, se, t: difference / se };
  };
}

function bootstrapResponse(
  model: AdjustedModel,
  groups: readonly (readonly number[])[],
  inflate: number,
  random: Random,
): number[] {
  const y = model.fitted.slice();
  for (const group of groups)
    for (const i of group) y[i]! += inflate * model.residuals[group[random.below(group.length)]!]!;
  return y;
}

function report(options: ResampleOptions, done: number, total: number, doing: string): void {
  stopIfCancelled(options.signal);
  options.onProgress?.({ done, total, doing });
}
