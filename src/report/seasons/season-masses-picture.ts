import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart } from "../../charts/chart.js";
import { historiesChart } from "../../charts/histories-chart.js";
import { history } from "../animal/masses-picture.js";

/** The daily masses of one season's animals of a species, over those of the other seasons. */
export function seasonMassesPicture(
  analysis: StudyAnalysis,
  options: { readonly species: string; readonly season: string },
): Chart {
  const dated = analysis.animals.filter(
    (a) => a.species === options.species && a.series.age.birth !== null,
  );
  const chart = historiesChart(
    {
      histories: dated.filter((a) => a.season === options.season).map(history),
      behind: dated.filter((a) => a.season !== options.season).map(history),
      behindAre: `${options.species}s of other seasons`,
    },
    { title: `Mass by age, ${options.species}, season ${options.season}` },
  );
  return {
    ...chart,
    caption: `${chart.caption} One weighing stands for a day: dry and before a meal where there is one.`,
  };
}
