/** Cross-products of the rows of a mixed model, group by group: all that its likelihood needs. */
export interface LevelShape {
  /** Random effects per group. */
  readonly q: number;
  readonly groups: number;
  /** For each group, its group in the next level out (0 for the last level). */
  readonly parent: Int32Array;
}

export interface MixedBlocks {
  /** Rows of data. */
  readonly n: number;
  /** Fixed columns. */
  readonly p: number;
  readonly levels: readonly LevelShape[];
  /** Innermost groups: q x (q + m) each, the products of Z with (Z, everything after it). */
  readonly first: Float64Array;
  /** For each parent of innermost groups: m x m products of everything after Z. */
  readonly rest: Float64Array;
}

export type LikelihoodMethod = "ML" | "REML";

/** Shapes of the blocks for `p` fixed columns, filled with zeros. */
export function emptyBlocks(n: number, p: number, levels: readonly LevelShape[]): MixedBlocks {
  const width = levels.reduce((s, l) => s + l.q, 0) + p + 1;
  const inner = levels[0];
  if (inner === undefined) {
    return { n, p, levels, first: new Float64Array(0), rest: new Float64Array(width * width) };
  }
  const m = width - inner.q;
  const parents = levels[1]?.groups ?? 1;
  return {
    n,
    p,
    levels,
    first: new Float64Array(inner.groups * inner.q * width),
    rest: new Float64Array(parents * m * m),
  };
}

/**
 * Fills the blocks from `rows` (n x width, row by row, columns Z of each level,
 * then X, then y), groups of the innermost level lying together: group g has the
 * rows `starts[g]` to `starts[g + 1] - 1`.
 */
export function fillBlocks(blocks: MixedBlocks, rows: Float64Array, starts: Int32Array): void {
  const inner = blocks.levels[0];
  const q = inner?.q ?? 0;
  const groups = inner?.groups ?? 1;
  const width = blocks.levels.reduce((s, l) => s + l.q, 0) + blocks.p + 1;
  const m = width - q;
  const { first, rest } = blocks;
  first.fill(0);
  rest.fill(0);
  for (let g = 0; g < groups; g++) {
    const from = inner === undefined ? 0 : starts[g]!;
    const to = inner === undefined ? blocks.n : starts[g + 1]!;
    const f = g * q * width;
    const r = (inner === undefined ? 0 : inner.parent[g]!) * m * m;
    for (let i = from; i < to; i++) {
      const at = i * width;
      for (let a = 0; a < q; a++) {
        const z = rows[at + a]!;
        if (z === 0) continue;
        const to0 = f + a * width;
        for (let b = a; b < width; b++) first[to0 + b]! += z * rows[at + b]!;
      }
      for (let a = 0; a < m; a++) {
        const x = rows[at + q + a]!;
        if (x === 0) continue;
        const to0 = r + a * m;
        for (let b = a; b < m; b++) rest[to0 + b]! += x * rows[at + q + b]!;
      }
    }
    for (let a = 0; a < q; a++) {
      for (let b = a + 1; b < q; b++) first[f + b * width + a] = first[f + a * width + b]!;
    }
  }
  const parents = rest.length / (m * m);
  for (let g = 0; g < parents; g++) {
    const r = g * m * m;
    for (let a = 0; a < m; a++) {
      for (let b = a + 1; b < m; b++) rest[r + b * m + a] = rest[r + a * m + b]!;
    }
  }
}

/** Working memory of one level during an evaluation. */
export interface LevelWork {
  readonly q: number;
  readonly m: number;
  readonly groups: number;
  readonly parent: Int32Array;
  /** groups x q x m. */
  readonly u: Float64Array;
  /** groups x q x q, lower Cholesky factors of M. */
  readonly chol: Float64Array;
  /** A L, q x q each. */
  readonly al: Float64Array;
  /** Blocks of this level's groups, rows of (A B) with their stride and step. */
  source: Float64Array;
  readonly stride: number;
  readonly step: number;
  /** Accumulated blocks of the parents (parents x m x m). */
  readonly sum: Float64Array;
  /** Derivative of the deviance by `sum`. */
  readonly outer: Float64Array;
}
