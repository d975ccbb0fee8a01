import { UsageError } from "../../core/usage-error.js";
import type { Archive } from "../archive-handle.js";
import { type Chosen, chosenRows } from "../chosen.js";
import { type Sums, sumRows } from "./sum-rows.js";

export interface CentileOptions extends Chosen {
  /** Width of a step of age, days. Default 7. */
  readonly everyD?: number;
  /** Default 3, 10, 50, 90 and 97. */
  readonly centiles?: readonly number[];
}

/**
 * Centiles of mass by age and species over all houses, as they stand in the records: of the
 * masses that stand for their days, animals of usable age, quantiles of Hyndman and Fan's
 * type 7. Nothing is smoothed and nothing corrected for who was weighed at which age.
 *
 * @returns for each species and step: age_from_d, animals, weighings, c3 ... c97 in g.
 * @throws UsageError for a centile outside 0 to 100 or a step that is none.
 * @example (await centilesByAge(archive)).value[0]?.c50 // 2140
 */
export function centilesByAge(
  archive: Archive,
  options: CentileOptions = {},
): Promise<Sums<"centiles-by-age">> {
  const { everyD = 7, centiles = [3, 10, 50, 90, 97], ...chosen } = options;
  const wrong = centiles.find((c) => !(c >= 0 && c <= 100));
  if (wrong !== undefined || !(everyD > 0))
    throw new UsageError({
      needed: "centiles from 0 to 100 and a step of age above 0",
      came: wrong === undefined ? `a step of ${everyD}` : `the centile ${wrong}`,
      where: "centilesByAge",
      todo: "Give for example { everyD: 7, centiles: [10, 50, 90] }.",
    });
  const columns = centiles.map(
    (c) => `quantile_cont(net_g, ${c / 100}) AS c${String(c).replace(".", "_")}`,
  );
  const sql = `
    SELECT species, ${everyD} * floor(age_d / ${everyD}) AS age_from_d,
      count(DISTINCT animal) AS animals, count(*) AS weighings, ${columns.join(", ")}
    FROM weighings_counted AS w
    WHERE stands_for_day AND age_usable AND net_g > 0 AND age_d >= 0 AND ${chosenRows(chosen, "w")}
    GROUP BY ALL ORDER BY ALL`;
  return sumRows(archive, "centiles-by-age", "Quantiles of daily masses by step of age", sql, {
    everyD,
    centiles,
    ...chosen,
  });
}
