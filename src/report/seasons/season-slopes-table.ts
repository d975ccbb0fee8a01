import type { Result } from "../../core/result.js";
import type { SeasonComparison } from "../../seasons/compare-seasons.js";
import { say } from "../section/say.js";
import { type Table, table } from "../section/section.js";

/**
 * The interaction: how gain depends on arrival mass in each season. It is shown
 * in every comparison and chooses no model.
 */
export function seasonSlopesTable(comparison: Result<"compare-seasons", SeasonComparison>): Table {
  const { slopes, seasons } = comparison.value;
  return table(
    "season-slopes",
    say(
      "season-table-slopes",
      slopes === null
        ? { f: null, df1: null, df2: null, p: null }
        : { f: slopes.f, df1: slopes.df1, df2: slopes.df2, p: slopes.p },
    ),
    [
      { title: "Season" },
      { title: "n", align: "number" },
      {
        title: "Change of gain per kg of arrival mass",
        unit: "g/d per kg",
        align: "number",
        digits: 3,
      },
    ],
    (slopes?.slopes ?? []).map((s) => [
      s.season,
      seasons.find((x) => x.season === s.season)?.n ?? null,
      s.perKg,
    ]),
    say("season-table-no-slopes"),
  );
}
