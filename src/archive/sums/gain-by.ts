import { UsageError } from "../../core/usage-error.js";
import type { Archive } from "../archive-handle.js";
import { type Chosen, chosenRows } from "../chosen.js";
import { groupColumns, type SumBy, type Sums, sumRows } from "./sum-rows.js";

export interface GainOptions extends Chosen {
  /** Ages between which gain is taken, days. */
  readonly fromAgeD: number;
  readonly toAgeD: number;
}

/** Fewest weighed days in the window. */
const leastWeighings = 6;

/**
 * The SQL of every animal's gain between two ages, as `seasonGains` counts it: the
 * regression of the masses that stand for their days on age, of animals of usable age with
 * 6 weighed days, the first and last within a tenth of the window of its ends.
 *
 * @throws UsageError where the window ends before it begins.
 */
export function gainSql({ fromAgeD, toAgeD, ...chosen }: GainOptions): string {
  if (!(fromAgeD >= 0 && toAgeD > fromAgeD && Number.isFinite(toAgeD)))
    throw new UsageError({
      needed: "a window with 0 <= fromAgeD < toAgeD",
      came: `${fromAgeD} to ${toAgeD}`,
      where: "gainBy",
      todo: "Give days of age, e.g. { fromAgeD: 21, toAgeD: 63 }.",
    });
  const edge = (toAgeD - fromAgeD) / 10;
  return `
    SELECT animal, count(*) AS weighings, regr_slope(net_g, age_d) AS gain,
      100 * regr_slope(ln(net_g), age_d) AS relative_gain
    FROM weighings_counted AS w
    WHERE stands_for_day AND age_usable AND net_g > 0
      AND age_d >= ${fromAgeD} AND age_d <= ${toAgeD} AND ${chosenRows(chosen, "w")}
    GROUP BY animal
    HAVING count(*) >= ${leastWeighings} AND min(age_d) <= ${fromAgeD + edge} AND max(age_d) >= ${toAgeD - edge}`;
}

/**
 * Gain between two ages by groups of animals, or animal by animal.
 *
 * @returns n animals, gain: mean, sd (n - 1) and median of their gains, g/d; relative_gain,
 *   the mean in %/d; weighings, the weighed days behind it.
 * @throws UsageError where the window ends before it begins.
 * @example (await gainBy(archive, ["facility"], { fromAgeD: 21, toAgeD: 63 })).value[0]?.gain // 41.3
 */
export function gainBy(
  archive: Archive,
  by: readonly SumBy[],
  options: GainOptions,
): Promise<Sums<"gain-by">> {
  const sql = `
    WITH gains AS (${gainSql(options)})
    SELECT ${groupColumns(by, "s.main_diet").join(", ")}, count(*) AS n, avg(gain) AS gain,
      stddev_samp(gain) AS gain_sd, median(gain) AS gain_median,
      avg(relative_gain) AS relative_gain, sum(weighings) AS weighings
    FROM gains JOIN stays AS s USING (animal)
    GROUP BY ALL ORDER BY ALL`;
  return sumRows(archive, "gain-by", "Regression gain between two ages", sql, { by, ...options });
}
