import type { Archive } from "../archive-handle.js";
import { type Chosen, chosenRows } from "../chosen.js";
import { groupColumns, type SumBy, type Sums, sumRows } from "./sum-rows.js";

/**
 * Feed conversion of groups as the ratio of sums over windows of 14 days in which what was
 * eaten and what was gained are both known, never the mean of ratios.
 *
 * @returns animals, windows, kcal and gained_g summed, kcal_per_g their ratio; null where
 *   nothing was gained.
 * @example (await conversionBy(archive, ["season"])).value[0]?.kcal_per_g // 9.8
 */
export function conversionBy(
  archive: Archive,
  by: readonly SumBy[],
  chosen: Chosen = {},
): Promise<Sums<"conversion-by">> {
  const sql = `
    SELECT ${groupColumns(by, "s.main_diet").join(", ")}, count(DISTINCT s.animal) AS animals,
      count(*) AS windows, sum(w.kcal) AS kcal, sum(w.gained_g) AS gained_g,
      CASE WHEN sum(w.gained_g) > 0 THEN sum(w.kcal) / sum(w.gained_g) END AS kcal_per_g
    FROM conversion_windows AS w JOIN stays AS s ON s.animal = w.animal
    WHERE ${chosenRows(chosen, "w")} GROUP BY ALL ORDER BY ALL`;
  return sumRows(archive, "conversion-by", "Ratio of sums over windows of 14 days", sql, {
    by,
    ...chosen,
  });
}
