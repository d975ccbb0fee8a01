/** What no rule below makes readable. */
const named: Readonly<Record<string, string>> = {
  at: "time",
  from: "begin",
  to: "end",
  g_per_feed: "grams a feed",
  ml_per_feed: "mL a feed",
  feeds_per_day: "feeds a day",
};

/**
 * A column of the records as people say it; the file itself may head it otherwise.
 *
 * @example columnWords("tare_g") // "tare"
 */
export function columnWords(column: string): string {
  return (
    named[column] ?? column.replace(/_(?:id|g|pct|kcal_per_g|g_per_ml|h)$/, "").replaceAll("_", " ")
  );
}
