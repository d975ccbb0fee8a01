import type { Chart } from "../../charts/chart.js";
import { intervalChart } from "../../charts/interval-chart.js";
import type { Result } from "../../core/result.js";
import type { SeasonComparison } from "../../seasons/compare-seasons.js";

/** The seasons' mean gains at a common arrival, each with its interval. */
export function seasonsPicture(comparison: Result<"compare-seasons", SeasonComparison>): Chart {
  const { seasons, window, species, model } = comparison.value;
  const used = model?.used ?? [];
  const adjusted = used.length === 0 ? "without adjustment" : `adjusted for ${used.join(", ")}`;
  return intervalChart({
    title: `Mean gain by season, ${species}`,
    valueTitle: `Mean gain from ${window.fromAgeD} to ${window.toAgeD} days of age, at a common arrival (g/d)`,
    of: "season",
    intervalIs: `95 % interval of each season's mean (linear model of each animal's regression gain, ${adjusted})`,
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
