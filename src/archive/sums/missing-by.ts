import type { Archive } from "../archive-handle.js";
import { type Chosen, chosenRows } from "../chosen.js";
import { groupColumns, type SumBy, type Sums, sumRows } from "./sum-rows.js";

/**
 * What is missing in the records of groups, as `summariseSeasons` counts it.
 *
 * @returns animals, days_in_care, days_not_weighed, days_not_fed (between first and last
 *   fed day), feeds, feeds_unknown (not known how much was eaten), suspected_slips, ages_unknown.
 * @example (await missingBy(archive, ["facility"])).value[0]?.days_not_weighed // 31
 */
export function missingBy(
  archive: Archive,
  by: readonly SumBy[],
  chosen: Chosen = {},
): Promise<Sums<"missing-by">> {
  const sql = `
    WITH weighed AS (
      SELECT animal, count(*) FILTER (stands_for_day) AS days, count(*) FILTER (suspected_slip) AS slips
      FROM weighings_counted GROUP BY animal
    ), fed AS (
      SELECT animal, count(*) AS feeds, count(*) FILTER (eaten_g IS NULL) AS unknown,
        count(DISTINCT feeding_day) FILTER (usable) AS days,
        date_diff('day', min(feeding_day) FILTER (usable), max(feeding_day) FILTER (usable)) + 1 AS between_ends
      FROM feeds_counted GROUP BY animal
    )
    SELECT ${groupColumns(by, "s.main_diet").join(", ")}, count(*) AS animals,
      round(sum(coalesce(s.days_in_care, 0))) AS days_in_care,
      sum(greatest(0, floor(coalesce(s.days_in_care, 0) + 0.5) + 1 - coalesce(weighed.days, 0))) AS days_not_weighed,
      sum(coalesce(fed.between_ends - fed.days, 0)) AS days_not_fed,
      sum(coalesce(fed.feeds, 0)) AS feeds, sum(coalesce(fed.unknown, 0)) AS feeds_unknown,
      sum(coalesce(weighed.slips, 0)) AS suspected_slips,
      count(*) FILTER (s.arrival_age_d IS NULL) AS ages_unknown
    FROM stays AS s LEFT JOIN weighed USING (animal) LEFT JOIN fed USING (animal)
    WHERE ${chosenRows(chosen, "s")} GROUP BY ALL ORDER BY ALL`;
  return sumRows(archive, "missing-by", "What is missing, counted", sql, { by, ...chosen });
}
