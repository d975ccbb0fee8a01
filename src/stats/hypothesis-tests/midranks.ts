import { requireList } from "../../core/require-numbers.js";

/** Ranks from 1, equal values sharing the mean of theirs, and the sizes of the ties. */
export interface Midranks {
  readonly ranks: Float64Array;
  /** Sum over ties of t^3 - t. */
  readonly tieTerm: number;
}

/** @example midranks([3, 1, 3]).ranks // 2.5, 1, 2.5 */
export function midranks(values: ArrayLike<number>): Midranks {
  requireList("midranks", "the values", values);
  const n = values.length;
  const order = Array.from({ length: n }, (_, i) => i).sort((i, j) => values[i]! - values[j]!);
  const ranks = new Float64Array(n);
  let tieTerm = 0;
  for (let i = 0; i < n; ) {
    let j = i + 1;
    while (j < n && values[order[j]!] === values[order[i]!]) j++;
    for (let k = i; k < j; k++) ranks[order[k]!] = (i + j + 1) / 2;
    const t = j - i;
    tieTerm += t ** 3 - t;
    i = j;
  }
  return { ranks, tieTerm };
}
