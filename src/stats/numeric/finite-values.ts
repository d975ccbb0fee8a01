/**
 * The finite numbers of a list, in order. Every summary starts here: a `NaN` or a
 * gap must never move a median or a deviation unseen.
 *
 * @example finiteValues([1, Number.NaN, null, 3]) // [1, 3]
 */
export function finiteValues(values: Iterable<number | null | undefined>): number[] {
  const out: number[] = [];
  for (const v of values) if (typeof v === "number" && Number.isFinite(v)) out.push(v);
  return out;
}
