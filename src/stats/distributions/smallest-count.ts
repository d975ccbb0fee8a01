/**
 * The smallest whole k from 0 to `most` with cumulative(k) >= p, searched outward
 * from `start` by doubling steps and then by halving.
 */
export function smallestCount(
  p: number,
  start: number,
  most: number,
  cumulative: (k: number) => number,
): number {
  // A share that is a rounding error above a step still belongs to that step.
  const wanted = p * (1 - 64 * Number.EPSILON);
  let low = -1;
  let high = Math.min(most, Math.max(0, Math.floor(start)));
  for (let step = 1; cumulative(high) < wanted && high < most; step *= 2) {
    low = high;
    high = Math.min(most, high + step);
  }
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (cumulative(middle) >= wanted) high = middle;
    else low = middle;
  }
  return high;
}
