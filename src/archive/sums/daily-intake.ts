import type { Archive } from "../archive-handle.js";
import { type Chosen, chosenRows } from "../chosen.js";
import { groupColumns, type SumBy, type Sums, sumRows } from "./sum-rows.js";

/** What a gram holds, and what its totals are called. */
const parts = [
  ["kcal_per_g", "kcal"],
  ["dry_matter_per_g", "dry_matter_g"],
  ["protein_per_g", "protein_g"],
  ["fat_per_g", "fat_g"],
] as const;

/**
 * The SQL of the intake of every animal on every feeding day, as `intakeByDay` counts it:
 * a refusal left blank makes a range; a day without a feed, or with a feed shared with
 * others, has no upper limit (NULL); what a diet holds that is not known has none either.
 *
 * @example dailyIntakeSql({ facilities: ["oak"] })
 */
export function dailyIntakeSql(chosen: Chosen = {}): string {
  const totals = parts.map(
    ([per, name]) => `
      sum(eaten_low_g * coalesce(${per}, 0)) AS ${name}_low,
      CASE WHEN bool_or(${per} IS NULL AND eaten_high_g > 0) THEN NULL
        ELSE sum(eaten_high_g * coalesce(${per}, 0)) END AS ${name}_high`,
  );
  const read = parts.map(
    ([, name]) =>
      `coalesce(fed.${name}_low, 0) AS ${name}_low, CASE WHEN isOpen THEN NULL ELSE fed.${name}_high END AS ${name}_high`,
  );
  return `
    WITH fed AS (
      SELECT animal, feeding_day, count(*) AS feeds, sum(offered_g) AS offered_g,
        sum(eaten_low_g) AS eaten_low_g, sum(eaten_high_g) AS eaten_high_g, ${totals.join(", ")}
      FROM feeds_counted AS f WHERE usable AND ${chosenRows(chosen, "f")}
      GROUP BY animal, feeding_day
    ), ends AS (
      SELECT animal, min(feeding_day) AS first_day, max(feeding_day) AS last_day FROM fed GROUP BY animal
    ), days AS (
      SELECT animal, first_day, last_day,
        CAST(unnest(generate_series(first_day, last_day, INTERVAL 1 DAY)) AS DATE) AS feeding_day
      FROM ends
    ), shared AS (
      SELECT animal, feeding_day, count(*) AS n FROM shared_feeds GROUP BY animal, feeding_day
    )
    SELECT s.facility, s.season, s.species, s.animal, s.animal_id, d.feeding_day,
      d.feeding_day > d.first_day AND d.feeding_day < d.last_day AS complete,
      coalesce(fed.feeds, 0) AS feeds, coalesce(shared.n, 0) AS shared_feeds,
      coalesce(fed.offered_g, 0) AS offered_g, coalesce(fed.eaten_low_g, 0) AS eaten_g_low,
      CASE WHEN isOpen THEN NULL ELSE fed.eaten_high_g END AS eaten_g_high, ${read.join(", ")}
    FROM days AS d
      LEFT JOIN fed ON fed.animal = d.animal AND fed.feeding_day = d.feeding_day
      LEFT JOIN shared ON shared.animal = d.animal AND shared.feeding_day = d.feeding_day
      JOIN stays AS s ON s.animal = d.animal`.replaceAll(
    "isOpen",
    "fed.feeds IS NULL OR shared.n IS NOT NULL",
  );
}

/**
 * Intake of every animal on every feeding day, as `intakeByDay` has it for one study. The
 * answer has a row for each day: of a large archive choose a facility or a season, or take
 * `dailyIntakeSql` and `archive.each`.
 *
 * @returns g and kcal a day, `_low` to `_high`; a high of null is not limited by the records.
 * @example (await dailyIntake(archive, { facilities: ["oak"] })).value[0]?.eaten_g_low // 412
 */
export function dailyIntake(archive: Archive, chosen: Chosen = {}): Promise<Sums<"daily-intake">> {
  const sql = `${dailyIntakeSql(chosen)} ORDER BY s.animal, d.feeding_day`;
  return sumRows(archive, "daily-intake", "Eaten per feeding day", sql, { ...chosen });
}

/**
 * Mean intake a day of groups: over whole feeding days of which all amounts are known, as
 * `summariseSeasons` has it. By diet: what was eaten of it on those days on which it was fed.
 *
 * @returns days, animals, eaten_g (g/d), kcal (kcal/d over days whose energy is known).
 * @example (await meanIntakeBy(archive, ["facility", "season"])).value[0]?.eaten_g // 388.2
 */
export function meanIntakeBy(
  archive: Archive,
  by: readonly SumBy[],
  chosen: Chosen = {},
): Promise<Sums<"mean-intake-by">> {
  const columns = groupColumns(by, "amount.diet");
  const ofDiet = by.includes("diet");
  const amounts = ofDiet
    ? `SELECT f.animal, f.feeding_day, f.diet, sum(f.eaten_low_g) AS eaten_g,
        CASE WHEN bool_or(f.kcal_per_g IS NULL AND f.eaten_high_g > 0) THEN NULL
          ELSE sum(f.eaten_low_g * coalesce(f.kcal_per_g, 0)) END AS kcal
      FROM feeds_counted AS f JOIN known AS k ON k.animal = f.animal AND k.feeding_day = f.feeding_day
      WHERE f.usable GROUP BY f.animal, f.feeding_day, f.diet`
    : `SELECT animal, feeding_day, eaten_g_low AS eaten_g,
        CASE WHEN kcal_low = kcal_high THEN kcal_low END AS kcal FROM known`;
  const sql = `
    WITH daily AS (${dailyIntakeSql(chosen)}),
      known AS (SELECT * FROM daily WHERE complete AND feeds > 0 AND eaten_g_low = eaten_g_high),
      amount AS (${amounts})
    SELECT ${columns.join(", ")}, count(*) AS days, count(DISTINCT s.animal) AS animals,
      avg(amount.eaten_g) AS eaten_g, avg(amount.kcal) AS kcal
    FROM amount JOIN stays AS s ON s.animal = amount.animal
    GROUP BY ALL ORDER BY ALL`;
  return sumRows(archive, "mean-intake-by", "Mean eaten over whole days that are known", sql, {
    by,
    ...chosen,
  });
}
