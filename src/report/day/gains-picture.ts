import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart, ChartOptions } from "../../charts/chart.js";
import { type IntervalData, intervalChart } from "../../charts/interval-chart.js";
import { onOneScale } from "../../charts/on-one-scale.js";
import { count } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";
import { withGainDays } from "../section/with-method.js";

/**
 * The relative gains of the animals in care beside each other, with 95 % intervals: a
 * picture for each species, all on one scale, since a share of body mass is the same
 * thing in all of them.
 */
export function gainsPictures(analysis: StudyAnalysis, species: readonly string[]): Chart[] {
  const axis = `Gain over ${count(analysis.gainDays, "day")} (% of body mass a day)`;
  const made = onOneScale(
    axis,
    species.map((each) => (options) => gainsOf(analysis, each, axis, options)),
  );
  return made.map((chart) => withGainDays(chart, analysis.gainDays));
}

function gainsOf(
  analysis: StudyAnalysis,
  species: string,
  valueTitle: string,
  options: ChartOptions,
): Chart {
  const animals = analysis.animals.filter((a) => a.inCare && a.species === species);
  const data: IntervalData = {
    title: `Relative gain, ${species}`,
    valueTitle,
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
  };
  return intervalChart(data, options);
}
