import type { LinearMixedFit } from "./fit-linear-mixed.js";

/**
 * Degrees of freedom by containment, the rule for balanced nested designs: a
 * column that is constant within the groups of a level is judged against the
 * number of those groups, any other against the rows. The intercept counts as
 * judged against the outermost groups in contrasts.
 *
 * Source: Pinheiro and Bates (2000), section 2.4.2.
 */
export interface ContainmentDf {
  /** For each kept column; the intercept with the rows, as in tests of coefficients. */
  readonly byColumn: readonly number[];
  /** The smallest among the columns a contrast uses. */
  forContrast(row: ArrayLike<number>): number;
}

/**
 * Degrees of freedom by containment for every column of a fit.
 *
 * @example
 * const plot = [1, 1, 1, 2, 2, 2, 3, 3, 3, 4, 4, 4], day = [0, 1, 2, 0, 1, 2, 0, 1, 2, 0, 1, 2];
 * const ones = day.map(() => 1), response = [5, 7, 8, 4, 5, 7, 6, 9, 10, 5, 6, 9];
 * const levels = [{ name: "plot", group: plot, names: ["one"], columns: [ones] }];
 * const fit = fitLinearMixed({ response, fixed: { names: ["one", "day"], columns: [ones, day] }, levels });
 * containmentDf(fit).byColumn[1] // 7
 */
export function containmentDf(fit: LinearMixedFit): ContainmentDf {
  const { engine } = fit;
  const { levels, starts, n } = engine;
  // Level at which each column varies: 0 = rows, 1 = innermost groups, ...
  const groups = [n, ...levels.map((l) => l.groups)];
  const column = originalColumns(fit);
  const at = column.map((x) => {
    let level = 0;
    let group = Int32Array.from({ length: n });
    for (let g = 0; g + 1 < starts.length && levels.length > 0; g++)
      group.fill(g, starts[g]!, starts[g + 1]!);
    for (let k = 0; k < levels.length; k++) {
      if (!constantWithin(x, group)) break;
      level = k + 1;
      group = group.map((g) => levels[k]!.parent[g]!);
    }
    return level;
  });
  const intercept = column.findIndex((x) => x.every((v) => v === x[0]));
  const used = groups.map((_, level) => at.filter((l, c) => l === level && c !== intercept).length);
  const degrees = groups.map((count, level) => {
    const outer = groups[level + 1] ?? (intercept >= 0 ? 1 : 0);
    return count - outer - used[level]!;
  });
  const byColumn = at.map((level, c) => (c === intercept ? degrees[0]! : degrees[level]!));
  const outermost = levels.length === 0 ? degrees[0]! : groups[groups.length - 1]! - 1;
  return {
    byColumn,
    forContrast: (row) =>
      Math.min(
        ...byColumn
          .map((df, c) => (c === intercept ? outermost : df))
          .filter((_, c) => Math.abs(row[c]!) > 1e-10),
      ),
  };
}

/** The kept design columns on their original scale, in working order: X = Q R. */
function originalColumns(fit: LinearMixedFit): Float64Array[] {
  const { engine } = fit;
  const { n, width, r } = engine;
  const p = engine.gamma0.length;
  const zWidth = width - p - 1;
  return Array.from({ length: p }, (_, c) => {
    const out = new Float64Array(n);
    let size = 0;
    for (let i = 0; i < n; i++) {
      for (let k = 0; k <= c; k++) out[i]! += engine.rows[i * width + zWidth + k]! * r[k * p + c]!;
      size = Math.max(size, Math.abs(out[i]!));
    }
    // Rounding of the orthogonalisation must not make a constant column vary.
    return out.map((v) => (size === 0 ? 0 : Math.round((v / size) * 1e9)));
  });
}

function constantWithin(x: Float64Array, group: Int32Array): boolean {
  const seen = new Map<number, number>();
  for (let i = 0; i < x.length; i++) {
    const known = seen.get(group[i]!);
    if (known === undefined) seen.set(group[i]!, x[i]!);
    else if (Math.abs(known - x[i]!) > 2) return false;
  }
  return true;
}
