/**
 * The partial derivative of f by entry `at` of `values`, by central differences of
 * fourth order: error of order h^4, h a thousandth of the entry (of 0.0001 where the
 * entry is near zero). `values` is changed and put back.
 *
 * @param times scales the step, to compare two of them
 * @example centralDifference((v) => v[0] ** 2, [3], 0) // 6
 */
export function centralDifference(
  f: (values: ArrayLike<number>) => number,
  values: Float64Array | number[],
  at: number,
  times = 1,
): number {
  const kept = values[at]!;
  const h = times * 1e-3 * Math.max(Math.abs(kept), 1e-4);
  const point = (x: number) => {
    values[at] = kept + x;
    const y = f(values);
    values[at] = kept;
    return y;
  };
  return (8 * (point(h / 2) - point(-h / 2)) - (point(h) - point(-h))) / (6 * h);
}
