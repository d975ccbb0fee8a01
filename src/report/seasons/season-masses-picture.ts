import type { StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart } from "../../charts/chart.js";
import { historiesChart } from "../../charts/histories-chart.js";
import { count } from "../../units/format-number.js";
import { massBand } from "../animal/mass-band.js";
import { history } from "../animal/masses-picture.js";

/** The daily masses of one season's animals of a species, over those of the other seasons. */
export function seasonMassesPicture(
  analysis: StudyAnalysis,
  options: { readonly species: string; readonly season: string },
): Chart {
  const dated = analysis.animals.filter(
    (a) => a.species === options.species && a.series.age.birth !== null,
  );
  const others = dated.filter((a) => a.season !== options.season);
  const chart = historiesChart(
    {
      histories: dated
        .filter((a) => a.season === options.season)
        .map((a) => ({ ...history(a), animalId: a.animalId })),
      behind: massBand(others.map(history)),
      behindAre: `${count(others.length, options.species)} of other seasons`,
    },
    { title: `Mass by age, ${options.species}, season ${options.season}` },
  );
  return {
    ...chart,
    caption: `${chart.caption} One weighing stands for a day: dry and before a meal where there is one.`,
  };
}
