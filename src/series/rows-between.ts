/** Index of the first of some rows in order of time that does not lie before an instant. */
export function firstNotBefore(rows: readonly { readonly at: number }[], at: number): number {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]!.at < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** Index of the first of some rows in order of time that lies after an instant. */
export function firstAfter(rows: readonly { readonly at: number }[], at: number): number {
  let low = 0;
  let high = rows.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (rows[middle]!.at <= at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/**
 * The rows of `[from, to)`, of rows in order of time: found by halving, so that
 * looking at every day of a history costs in proportion to its rows.
 *
 * @example rowsBetween([{ at: 1 }, { at: 2 }, { at: 3 }], 2, 3) // [{ at: 2 }]
 */
export function rowsBetween<Row extends { readonly at: number }>(
  rows: readonly Row[],
  from: number,
  to: number,
): readonly Row[] {
  return rows.slice(firstNotBefore(rows, from), firstNotBefore(rows, to));
}
