import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart, ChartOptions } from "../../charts/chart.js";
import { contemporariesChart, type NamedHistory } from "../../charts/contemporaries-chart.js";
import { formatDate } from "../../units/format-date.js";
import { animalLabel } from "../section/animal-label.js";
import { withMethod } from "../section/with-method.js";
import { massBand } from "./mass-band.js";

/**
 * One animal's daily masses by age over what the animals of its species that could
 * serve as contemporaries weighed: those with a usable age.
 */
export function massAmongOthersPicture(
  analysis: StudyAnalysis,
  animal: AnimalAnalysis,
  options: ChartOptions = {},
): Chart {
  const until = animal.last?.ageD ?? Number.POSITIVE_INFINITY;
  const others = analysis.animals
    .filter(
      (a) => a !== animal && a.species === animal.species && a.series.age.usableForWeightForAge,
    )
    .map((a) => {
      const all = history(a);
      // A little beyond its own age, so that the reader sees where it would go.
      return { ...all, points: all.points.filter((p) => p.day <= until + 14) };
    })
    .filter((a) => a.points.length > 1);
  const chart = contemporariesChart(
    {
      animal: history(animal),
      others,
      band: massBand(others),
      othersAre: `other animals of the species with a usable age, all seasons up to ${formatDate(analysis.onDay)}`,
    },
    { ...options, title: `Mass of ${animalLabel(animal)} by age` },
  );
  return withMethod(chart, "daily-mass");
}

/** Daily masses by age; by days since admission where the birth is not known. */
export function history(animal: AnimalAnalysis): NamedHistory {
  return {
    name: animalLabel(animal),
    points: animal.series.daily.flatMap((d) => {
      const day = animal.series.age.birth === null ? d.sinceAdmissionD : d.ageD;
      return day === null ? [] : [{ day, massG: d.massG }];
    }),
  };
}
