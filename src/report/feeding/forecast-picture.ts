import type { Chart, ChartOptions } from "../../charts/chart.js";
import { forecastChart } from "../../charts/forecast-chart.js";
import { noticeText } from "../../core/catalogue.js";
import type { TargetForecast } from "../../planning/forecast-target.js";
import type { AnimalSeries } from "../../series/animal-series.js";
import { dayMs } from "../../units/day-ms.js";
import { screenWording } from "../../units/format.js";
import { formatDate } from "../../units/format-date.js";
import { animalLabel } from "../section/animal-label.js";
import { byName } from "../section/by-name.js";
import { say } from "../section/say.js";
import { withMethod } from "../section/with-method.js";

/**
 * One animal's way to its target mass. `series` is the history up to the day the
 * forecast was made, `at` that instant.
 */
export function forecastPicture(
  series: AnimalSeries,
  forecast: TargetForecast,
  options: { readonly at: number } & ChartOptions,
): Chart {
  const { birth } = series.age;
  const age = birth === null ? null : (options.at - birth) / dayMs;
  const { backtest } = forecast;
  const chart = forecastChart(
    {
      name: animalLabel({ animalId: series.animal.animalId, name: series.animal.name }),
      weighings: series.daily.flatMap((d) =>
        d.ageD === null || d.at > options.at ? [] : [{ day: d.ageD, massG: d.massG }],
      ),
      path: forecast.path.map((p) => ({ ...p, day: p.ageD })),
      targetG: forecast.targetG,
      earlier:
        backtest === null || age === null || backtest.forecastG.value === null
          ? null
          : {
              day: age,
              massG: backtest.forecastG.value,
              lower: backtest.forecastG.interval?.lower ?? null,
              upper: backtest.forecastG.interval?.upper ?? null,
              madeOn: formatDate(backtest.madeOn),
            },
      answer: answerOf(forecast, series.animal),
    },
    options.domain === undefined ? {} : { domain: options.domain },
  );
  return withMethod(chart, "forecast");
}

function answerOf(forecast: TargetForecast, animal: AnimalSeries["animal"]): string {
  const { refused, reached, earliest, likely, latest } = forecast;
  if (refused !== null)
    return noticeText(byName(refused, animal), screenWording()).replace(/\.$/, "");
  if (reached) return say("picture-forecast-reached");
  const day = (d: string | null) => (d === null ? null : formatDate(d));
  return say("picture-forecast-dates", {
    likely: day(likely),
    earliest: day(earliest),
    latest: day(latest),
  });
}
