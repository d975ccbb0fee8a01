import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart } from "../../charts/chart.js";
import { intervalChart } from "../../charts/interval-chart.js";
import { formatDate } from "../../units/format-date.js";
import { count } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { withMethod } from "../section/with-method.js";

/** The relative gains of the animals in care beside each other, with 95 % intervals. */
export function gainsPicture(
  analysis: StudyAnalysis,
  options: { readonly species?: string } = {},
): Chart {
  const animals = analysis.animals.filter(
    (a) => a.inCare && (options.species === undefined || a.species === options.species),
  );
  const chart = intervalChart({
    title: `Relative gain on ${formatDate(analysis.onDay)}${options.species === undefined ? "" : `, ${options.species}`}`,
    valueTitle: `Gain over ${count(analysis.gainDays, "day")} (% of body mass a day)`,
    of: "animal",
    intervalIs: "95 % intervals, allowing for neighbouring days that err alike",
    order: "value",
    reference: 0,
    rows: animals.map((a) => {
      const { value, interval, n } = a.gain.recent.relative;
      return {
        animalId: a.animalId,
        name: animalLabel(a),
        value,
        lower: interval?.lower ?? null,
        upper: interval?.upper ?? null,
        ...(n === undefined ? {} : { n }),
      };
    }),
  });
  return withMethod(chart, "relative-gain");
}
