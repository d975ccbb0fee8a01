import type { AnimalAnalysis, StudyAnalysis } from "../../analysis/study-analysis.js";
import type { Chart } from "../../charts/chart.js";
import { gainChart } from "../../charts/gain-chart.js";
import { dayMs } from "../../units/day-ms.js";
import { count } from "../../units/format-number.js";
import { animalLabel } from "../section/animal-label.js";

/** One animal's gain over the days (`gainDays`) that end on each day, with its 95 % interval. */
export function gainPicture(analysis: StudyAnalysis, animal: AnimalAnalysis): Chart {
  const byAge = animal.series.age.birth !== null;
  const admitted = animal.series.animal.admittedAt;
  return gainChart({
    name: animalLabel(animal),
    unit: "g/d",
    method: `slope of the daily masses over ${count(analysis.gainDays, "day")}, 95 % intervals that allow for neighbouring days erring alike`,
    dayTitle: byAge ? "Age (days)" : "Days since admission",
    points: animal.gain.daily.flatMap((d) => {
      const day = byAge ? d.ageD : admitted === null ? null : (d.at - admitted) / dayMs;
      const { value, interval } = d.overWindow.gain;
      if (day === null || value === null) return [];
      return [
        {
          day,
          gain: value,
          lower: interval?.lower ?? null,
          upper: interval?.upper ?? null,
        },
      ];
    }),
  });
}
