import { UsageError } from "../../core/usage-error.js";

/**
 * A time known only to lie in (after, by], `by` null when it had not happened
 * at the last look; `after` equal to `by` is an exact time. With `entered` the
 * unit was seen at all only because its time lies after that moment.
 */
export interface CensoredTime {
  readonly after: number;
  readonly by: number | null;
  readonly entered?: number;
}

/** Refuses times that cannot have been observed, and weights that do not belong to them. */
export function requireCensoredTimes(
  where: string,
  times: readonly CensoredTime[],
  weights?: readonly number[],
): void {
  times.forEach((t, i) => {
    const by = t.by ?? Number.POSITIVE_INFINITY;
    const exact = t.after === by;
    if (
      Number.isFinite(t.after) &&
      !Number.isNaN(by) &&
      by >= t.after &&
      (t.entered === undefined || t.entered < t.after || (!exact && t.entered <= t.after))
    )
      return;
    throw new UsageError({
      needed: "entered <= after <= by, with after finite",
      came: `time ${i + 1} is after ${t.after}, by ${t.by}, entered ${t.entered}`,
      where,
      todo: "A time already past at entry cannot be used under left truncation: leave it out and say so.",
    });
  });
  const weighed = weights ?? times.map(() => 1);
  if (
    weighed.length === times.length &&
    weighed.every((w) => w >= 0 && Number.isFinite(w)) &&
    weighed.some((w) => w > 0)
  )
    return;
  throw new UsageError({
    needed: "at least one time that counts, and one finite weight of 0 or more for each",
    came: times.length === 0 ? "none came" : `${times.length} times, ${weighed.length} weights`,
    where,
    todo: "Check that anything was observed before calling.",
  });
}
