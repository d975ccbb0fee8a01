import type { Chart } from "../../charts/chart.js";
import { intervalChart } from "../../charts/interval-chart.js";
import type { Result } from "../../core/result.js";
import type { SeasonComparison } from "../../seasons/compare-seasons.js";

/** The seasons' mean gains at a common arrival, each with its interval. */
export function seasonsPicture(comparison: Result<"compare-seasons", SeasonComparison>): Chart {
  const { seasons, window, species } = comparison.value;
  return intervalChart({
    title: `Mean gain by season, ${species}`,
    valueTitle: `Mean gain from ${window.fromAgeD} to ${window.toAgeD} days of age, at a common arrival (g/d)`,
    of: "season",
    intervalIs: "95 % interval of each season's adjusted mean",
    order: "given",
    rows: seasons.map((s) => ({
      name: s.season,
      value: s.adjusted.value,
      lower: s.adjusted.interval?.lower ?? null,
      upper: s.adjusted.interval?.upper ?? null,
      n: s.n,
    })),
  });
}
