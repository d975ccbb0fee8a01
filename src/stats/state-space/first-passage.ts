import { normalMixtureCumulative, type WeighedNormal } from "../distributions/normal-mixture.js";

/** By which time a rising path has reached a bound. */
export interface FirstPassage {
  /** Probability that the bound was reached by each time; never falls. */
  readonly reachedBy: readonly number[];
  /** Time by which it was reached with probability `share`; null where not by the last time. */
  readonly timeOf: (share: number) => number | null;
}

/**
 * When a path first reaches a bound, from its distribution at each time: the largest
 * probability so far of standing at or above it. Exact for a path that does not turn back;
 * a path that wanders reaches it a little sooner than this says.
 *
 * @example
 * const at = (mean) => [{ weight: 1, mean, sd: 1 }];
 * firstPassage([0, 1, 2], [at(-1), at(0), at(1)], 0).timeOf(0.5) // 1
 */
export function firstPassage(
  times: readonly number[],
  path: readonly (readonly WeighedNormal[])[],
  bound: number,
): FirstPassage {
  let most = 0;
  const reachedBy = path.map((parts) => {
    most = Math.max(most, 1 - normalMixtureCumulative(parts, bound));
    return most;
  });
  return {
    reachedBy,
    timeOf: (share) => {
      const i = reachedBy.findIndex((p) => p >= share);
      if (i < 0) return null;
      if (i === 0) return times[0]!;
      const before = reachedBy[i - 1]!;
      const part = (share - before) / (reachedBy[i]! - before);
      return times[i - 1]! + part * (times[i]! - times[i - 1]!);
    },
  };
}
