import type { Archive } from "../archive-handle.js";
import { type Chosen, chosenRows } from "../chosen.js";
import { groupColumns, type SumBy, type Sums, sumRows } from "./sum-rows.js";

export interface MilestoneSumOptions extends Chosen {
  /** Days since birth (default) or since admission. */
  readonly scale?: "age" | "since admission";
}

/**
 * Milestones of groups: how many animals were looked at and reached each, and when those
 * that reached it were first seen to. The middle is of those seen alone: where many had not
 * reached it yet it comes too early, so both counts stand beside it.
 *
 * @returns by group and milestone: animals, seen, still_in_care, died, left_care,
 *   seen_by_median_d and seen_by_mean_d in days of the scale.
 * @example (await milestonesBy(archive, ["season"])).value[0]?.seen // 6
 */
export function milestonesBy(
  archive: Archive,
  by: readonly SumBy[],
  options: MilestoneSumOptions = {},
): Promise<Sums<"milestones-by">> {
  const { scale = "age", ...chosen } = options;
  const ended = (how: string) => `count(*) FILTER (m.ended = '${how}')`;
  const sql = `
    SELECT ${groupColumns(by, "s.main_diet").join(", ")}, m.milestone, count(*) AS animals,
      ${ended("seen")} AS seen, ${ended("still in care")} AS still_in_care,
      ${ended("died")} AS died, ${ended("left")} AS left_care,
      median(m.by_d) AS seen_by_median_d, avg(m.by_d) AS seen_by_mean_d
    FROM milestones AS m JOIN stays AS s ON s.animal = m.animal
    WHERE m.scale = '${scale}' AND ${chosenRows(chosen, "m")} GROUP BY ALL ORDER BY ALL`;
  return sumRows(archive, "milestones-by", "Milestones as they were first seen", sql, {
    by,
    scale,
    ...chosen,
  });
}
