import type { Chart } from "../../charts/chart.js";
import { seasonCurvesChart } from "../../charts/season-curves-chart.js";
import type { Result } from "../../core/result.js";
import type { SeasonCurves } from "../../seasons/season-curves.js";
import { formatNumber } from "../../units/format-number.js";

/**
 * Mean curves of the seasons at a common arrival, and in small panels the
 * differences that concern one season (by default the last).
 */
export function seasonCurvesPicture(
  result: Result<"season-curves", SeasonCurves>,
  options: { readonly season?: string } = {},
): Chart {
  const { curves, differences, species, model } = result.value;
  const season = options.season ?? curves.at(-1)?.season;
  return seasonCurvesChart({
    of: species,
    curves: curves.map((c) => ({
      name: c.season,
      n: c.n,
      points: c.points.map((p) => ({
        day: p.ageD,
        massG: p.massG,
        lower: p.interval.lower,
        upper: p.interval.upper,
      })),
    })),
    differences: differences
      .filter((d) => d.from === season || d.to === season)
      .map((d) => ({
        name: `${d.to} against ${d.from}`,
        points: d.points.flatMap(({ ageD, percent, interval: { lower, upper } }) =>
          lower === null || upper === null ? [] : [{ day: ageD, percent, lower, upper }],
        ),
      })),
    bandIs: "95 % interval at each age by itself",
    method:
      "Mixed model of ln mass, cubic in age for each season, each animal with its own level and rate",
    at: arrivalText(model),
  });
}

function arrivalText(model: SeasonCurves["model"]): string {
  if (model === null || model.used.length === 0) return "not adjusted for arrival";
  const age =
    model.atArrivalAgeD === null || !model.used.includes("arrival age")
      ? ""
      : ` and an arrival age of ${formatNumber(model.atArrivalAgeD, 3)} days`;
  return `at an arrival mass of ${formatNumber(model.atArrivalMassG, 4)} g${age}`;
}
