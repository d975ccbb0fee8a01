import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import { dayMs } from "../../units/day-ms.js";
import { localText } from "../../units/format-date.js";
import { type Table, table } from "../section/section.js";

/** The last known-weight checks of the scales an animal was weighed on lately. */
export function scaleChecksTable(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: { readonly days?: number } = {},
): Table {
  const days = options.days ?? 28;
  const end = animal.series.span?.to ?? 0;
  const recent = animal.series.weighings.filter((w) => w.at > end - days * dayMs);
  const scales = [...new Set(recent.flatMap((w) => w.row.scaleId ?? []))].sort();
  const rows = scales.map((scale) => {
    const weighings = recent.filter((w) => w.row.scaleId === scale).length;
    const checks = analysis.series.scaleChecks
      .filter((c) => c.scaleId === scale && c.at > end - days * dayMs)
      .sort((a, b) => a.at - b.at);
    const last = checks.at(-1);
    const worst = checks.reduce((most, c) => {
      const off = (100 * (c.readingG - c.knownG)) / c.knownG;
      return Math.abs(off) > Math.abs(most) ? off : most;
    }, 0);
    return [
      scale,
      weighings,
      checks.length,
      last === undefined ? "none" : localText(last.at, analysis.settings.zone),
      last === undefined ? null : last.readingG - last.knownG,
      checks.length === 0 ? null : worst,
    ];
  });
  return table(
    "scale-checks",
    `Scales used in the last ${days} days and their known-weight checks in that time.`,
    [
      { title: "Scale" },
      { title: "Weighings of this animal", align: "number" },
      { title: "Checks", align: "number" },
      { title: "Last check (local)" },
      { title: "It read too high by", unit: "g", align: "number", digits: 3 },
      { title: "Largest error of any check", unit: "%", align: "number", digits: 2 },
    ],
    rows,
    "No scale is named for its recent weighings.",
  );
}
