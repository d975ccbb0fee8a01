import { type Matrix, makeMatrix } from "./matrix.js";

/**
 * A QR factorisation a P = Q R by Householder reflections, with column pivoting.
 *
 * `packed` holds R on and above the diagonal and the reflection vectors below
 * it (the vector's first entry is `head[k]`). `pivot[k]` is the column of `a`
 * that stands k-th. `rank` counts the columns kept; the rest come last.
 */
export interface HouseholderQr {
  readonly packed: Matrix;
  readonly head: Float64Array;
  readonly pivot: readonly number[];
  readonly rank: number;
}

export interface QrOptions {
  /**
   * `"limited"` (default): columns keep their order and only columns that depend
   * on earlier ones move to the end, which is what a fitted model wants.
   * `"full"`: the longest remaining column is taken at every step.
   */
  readonly pivoting?: "limited" | "full";
  /** A column counts as dependent when what is left of it is below this share. Default 1e-11. */
  readonly tolerance?: number;
}

/**
 * Factorises `a` (rows >= 1). Source: Golub and Van Loan, Matrix Computations,
 * chapter 5 (Householder vectors, column pivoting).
 *
 * @example householderQr(matrixFromRows([[1, 1], [1, 2], [1, 3]])).rank // 2
 */
export function householderQr(a: Matrix, options: QrOptions = {}): HouseholderQr {
  const { pivoting = "limited", tolerance = 1e-11 } = options;
  const { rows: n, cols: p } = a;
  // Work on columns: they are what a reflection touches.
  const column = Array.from({ length: p }, (_, j) =>
    Float64Array.from({ length: n }, (_, i) => a.data[i * p + j]!),
  );
  const length = column.map((c) => norm(c, 0));
  const pivot = column.map((_, j) => j);
  const head = new Float64Array(p);
  let last = p;
  let rank = 0;
  while (rank < Math.min(n, last)) {
    const k = rank;
    if (pivoting === "full") {
      let best = k;
      let longest = norm(column[k]!, k);
      for (let j = k + 1; j < p; j++) {
        const l = norm(column[j]!, k);
        // Only a clear gain moves a column, so ties keep the given order.
        if (l > longest * (1 + 1e-12)) [best, longest] = [j, l];
      }
      if (best !== k) swap(column, pivot, length, k, best);
    }
    const c = column[k]!;
    const left = norm(c, k);
    if (!(left > tolerance * length[k]!)) {
      if (pivoting === "full") break;
      last--;
      for (let j = k; j < p - 1; j++) swap(column, pivot, length, j, j + 1);
      continue;
    }
    const alpha = c[k]! > 0 ? -left : left;
    const first = c[k]! - alpha;
    head[k] = first;
    c[k] = alpha;
    const scale = -first * alpha; // v'v / 2
    for (let j = k + 1; j < p; j++) {
      const d = column[j]!;
      let s = first * d[k]!;
      for (let i = k + 1; i < n; i++) s += c[i]! * d[i]!;
      const f = s / scale;
      d[k]! -= f * first;
      for (let i = k + 1; i < n; i++) d[i]! -= f * c[i]!;
    }
    rank++;
  }
  const packed = makeMatrix(n, p);
  column.forEach((c, j) => {
    for (let i = 0; i < n; i++) packed.data[i * p + j] = c[i]!;
  });
  return { packed, head, pivot, rank };
}

/** Q'y: the first `rank` numbers are the effects, the rest carry the residual. */
export function applyQTransposed(qr: HouseholderQr, y: ArrayLike<number>): Float64Array {
  const out = Float64Array.from(y);
  for (let k = 0; k < qr.rank; k++) reflect(qr, k, out);
  return out;
}

/** Q y. */
export function applyQ(qr: HouseholderQr, y: ArrayLike<number>): Float64Array {
  const out = Float64Array.from(y);
  for (let k = qr.rank - 1; k >= 0; k--) reflect(qr, k, out);
  return out;
}

/**
 * Least-squares coefficients of y on the columns of `a`, in the order of `a`;
 * `null` for a column that depends on the others.
 */
export function solveQr(qr: HouseholderQr, y: ArrayLike<number>): (number | null)[] {
  return coefficientsFromEffects(qr, applyQTransposed(qr, y));
}

/** As {@link solveQr}, from effects already computed by {@link applyQTransposed}. */
export function coefficientsFromEffects(
  qr: HouseholderQr,
  effects: ArrayLike<number>,
): (number | null)[] {
  const { packed, rank, pivot } = qr;
  const p = packed.cols;
  const x = new Float64Array(rank);
  for (let i = rank - 1; i >= 0; i--) {
    let s = effects[i]!;
    for (let k = i + 1; k < rank; k++) s -= packed.data[i * p + k]! * x[k]!;
    x[i] = s / packed.data[i * p + i]!;
  }
  const out: (number | null)[] = new Array(p).fill(null);
  x.forEach((value, i) => {
    out[pivot[i]!] = value;
  });
  return out;
}

/** The upper triangular R (rank x rank), columns in pivoted order. */
export function rFactor(qr: HouseholderQr): Matrix {
  const { packed, rank } = qr;
  const out = makeMatrix(rank, rank);
  for (let i = 0; i < rank; i++) {
    for (let j = i; j < rank; j++) out.data[i * rank + j] = packed.data[i * packed.cols + j]!;
  }
  return out;
}

/**
 * (R'R)^-1 = (a'a)^-1 over the kept columns, in the order of `a` (rank x rank,
 * the dependent columns left out).
 */
export function inverseCrossProduct(qr: HouseholderQr): Matrix {
  const { rank, pivot } = qr;
  const r = rFactor(qr);
  // Columns of R^-1 by back substitution.
  const inverse = makeMatrix(rank, rank);
  for (let j = 0; j < rank; j++) {
    for (let i = j; i >= 0; i--) {
      let s = i === j ? 1 : 0;
      for (let k = i + 1; k <= j; k++) s -= r.data[i * rank + k]! * inverse.data[k * rank + j]!;
      inverse.data[i * rank + j] = s / r.data[i * rank + i]!;
    }
  }
  const kept = pivot.slice(0, rank);
  const place = kept.map((_, k) => k).sort((x, y) => kept[x]! - kept[y]!); // place[i]: pivoted position of i-th kept column
  const out = makeMatrix(rank, rank);
  for (let i = 0; i < rank; i++) {
    for (let j = 0; j <= i; j++) {
      const u = place[i]!;
      const v = place[j]!;
      let s = 0;
      for (let k = Math.max(u, v); k < rank; k++) {
        s += inverse.data[u * rank + k]! * inverse.data[v * rank + k]!;
      }
      out.data[i * rank + j] = s;
      out.data[j * rank + i] = s;
    }
  }
  return out;
}

function reflect(qr: HouseholderQr, k: number, y: Float64Array): void {
  const { packed, head } = qr;
  const { rows: n, cols: p } = packed;
  const first = head[k]!;
  const scale = -first * packed.data[k * p + k]!;
  let s = first * y[k]!;
  for (let i = k + 1; i < n; i++) s += packed.data[i * p + k]! * y[i]!;
  const f = s / scale;
  y[k]! -= f * first;
  for (let i = k + 1; i < n; i++) y[i]! -= f * packed.data[i * p + k]!;
}

/** Euclidean length of c from entry `from` on, scaled so that squares cannot overflow. */
function norm(c: Float64Array, from: number): number {
  let big = 0;
  for (let i = from; i < c.length; i++) big = Math.max(big, Math.abs(c[i]!));
  if (big === 0 || !Number.isFinite(big)) return big;
  let s = 0;
  for (let i = from; i < c.length; i++) s += (c[i]! / big) ** 2;
  return big * Math.sqrt(s);
}

function swap(
  column: Float64Array[],
  pivot: number[],
  length: number[],
  i: number,
  j: number,
): void {
  [column[i], column[j]] = [column[j]!, column[i]!];
  [pivot[i], pivot[j]] = [pivot[j]!, pivot[i]!];
  [length[i], length[j]] = [length[j]!, length[i]!];
}
